-- Claims: terms of suppliers, goods taken into use, joint samples, disputes.

-- row:  supplier_term (tenterbook/dispute.h): id text, supplier text or NULL, supplier_name text or NULL,
--       country text, laws text, open_days int or -1, hidden_days int or -1, working flag, before_cutting flag,
--       stands_in text, set_at text, set_by text
-- row:  bolt_use (tenterbook/dispute.h): id text, bolt text, used flag, metres number or NULL, why text, anyway flag,
--       used_at text, used_by text, replaces text or NULL, bolt_number text
-- row:  use_corrected: bolt text, corrections whole
-- row:  joint_sample (tenterbook/dispute.h): id text, lot text, serial whole, swatches whole, each_one whole,
--       seed text, laboratory text, rule text, present text, dealt_at text, dealt_by text
-- row:  joint_piece (tenterbook/dispute.h): swatch text, holder holder, tag text, part part, bolt_number text,
--       kept text
-- row:  dispute (tenterbook/dispute.h): id text, lot text, serial whole, found_on text or NULL
-- row:  dispute_step (tenterbook/dispute.h): id text, dispute text, step step, day text, words text,
--       due text or NULL, remedy remedy, amount number or NULL, currency text, channel text, proof text,
--       document text or NULL, keep_until text or NULL, recorded_at text, recorded_by text, document_name text,
--       document_sha256 text
-- row:  money_step (tenterbook/money.h): dispute text, supplier text, name text, day text, step step, amount number,
--       currency text, open flag
-- row:  claimed_part (tenterbook/dispute.h): bolts whole, metres number or NULL, kg number
-- row:  verdict_against (tenterbook/dispute.h): day text, entry whole, verb text, against text
-- row:  looked_at (tenterbook/dispute.h): day text, typed text, entry whole, number text, corrects flag, counts flag

-- name: supplier_term_add
-- in:   $1 id text, $2 supplier text or NULL, $3 country text or '', $4 laws text or '', $5 open_days int or -1,
--       $6 hidden_days int or -1, $7 working flag, $8 before_cutting flag, $9 stands_in text or '', $10 set_at text,
--       $11 set_by person, $12 entry entry
-- from: supplier_term
-- fact: supplier_term
INSERT INTO supplier_term (id, supplier, country, laws, open_days, hidden_days, working, before_cutting, stands_in,
                           set_at, set_by, entry)
VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12);

-- Those set for the name itself: what was set for another spelling of it is not in force (docs/mistakes.md).
-- name: supplier_term_of_supplier
-- in:   $1 supplier text
-- out:  supplier_term
SELECT t.id, t.supplier, s.name AS supplier_name, t.country, t.laws, t.open_days, t.hidden_days, t.working,
       t.before_cutting, t.stands_in, t.set_at, p.name AS set_by
  FROM supplier_term t JOIN person p ON p.id = t.set_by JOIN supplier s ON s.id = t.supplier
 WHERE t.supplier = $1
 ORDER BY t.entry DESC, t.id DESC LIMIT 1;

-- name: supplier_term_of_country
-- in:   $1 country text ('': everybody)
-- out:  supplier_term
SELECT t.id, t.supplier, NULL AS supplier_name, t.country, t.laws, t.open_days, t.hidden_days, t.working,
       t.before_cutting, t.stands_in, t.set_at, p.name AS set_by
  FROM supplier_term t JOIN person p ON p.id = t.set_by
 WHERE t.supplier IS NULL AND t.country = $1
 ORDER BY t.entry DESC, t.id DESC LIMIT 1;

-- name: supplier_term_all
-- out:  supplier_term
-- list: supplier_term_list
SELECT t.id, t.supplier, s.name AS supplier_name, t.country, t.laws, t.open_days, t.hidden_days, t.working,
       t.before_cutting, t.stands_in, t.set_at, p.name AS set_by
  FROM supplier_term t JOIN person p ON p.id = t.set_by LEFT JOIN supplier s ON s.id = t.supplier
 WHERE NOT EXISTS (SELECT 1 FROM supplier_term r
                    WHERE r.supplier IS NOT DISTINCT FROM t.supplier
                      AND (r.supplier IS NOT NULL OR r.country = t.country)
                      AND (r.entry > t.entry OR (r.entry = t.entry AND r.id > t.id)))
   AND NOT EXISTS (SELECT 1 FROM supplier_now x WHERE x.id = t.supplier AND x.same_as <> x.id)
 ORDER BY CASE WHEN t.supplier IS NOT NULL THEN 0 WHEN t.country <> '' THEN 1 ELSE 2 END, s.name, t.country;

-- name: bolt_use_add
-- in:   $1 id text, $2 bolt text, $3 used flag, $4 metres number or NULL, $5 why text or '', $6 anyway flag,
--       $7 used_at text, $8 used_by person, $9 replaces text or NULL, $10 entry entry
-- from: bolt_use
-- fact: bolt_use
INSERT INTO bolt_use (id, bolt, used, metres, why, anyway, used_at, used_by, replaces, entry)
VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10);

-- name: bolt_use_of_lot
-- in:   $1 lot text
-- out:  bolt_use
-- list: bolt_use_list
SELECT u.id, u.bolt, u.used, u.metres, u.why, u.anyway, u.used_at, p.name AS used_by, u.replaces,
       b.number AS bolt_number
  FROM bolt_use_now u JOIN bolt_now b ON b.id = u.bolt JOIN person p ON p.id = u.used_by
 WHERE b.lot = $1
 ORDER BY u.entry, u.id;

-- name: bolt_use_replaced
-- in:   $1 id text
-- out:  use_corrected
SELECT u.bolt, (SELECT COUNT(*) FROM bolt_use r WHERE r.replaces = u.id) AS corrections
  FROM bolt_use u WHERE u.id = $1 AND u.used = 1;

-- name: joint_sample_add
-- in:   $1 id text, $2 lot text, $3 serial whole, $4 swatches whole, $5 each_one whole, $6 seed text,
--       $7 laboratory text or '', $8 rule text or '', $9 present text or '', $10 dealt_at text, $11 dealt_by person,
--       $12 entry entry
-- from: joint_sample
-- fact: joint_sample
INSERT INTO joint_sample (id, lot, serial, swatches, each_one, seed, laboratory, rule, present, dealt_at, dealt_by,
                          entry)
VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12);

-- name: joint_sample_next_serial
-- in:   $1 lot text
-- out:  serial whole
SELECT COALESCE(MAX(serial), 0) + 1 AS serial FROM joint_sample WHERE lot = $1;

-- name: joint_sample_of_lot
-- in:   $1 lot text
-- out:  joint_sample
SELECT j.id, j.lot, j.serial, j.swatches, j.each_one, j.seed, j.laboratory, j.rule, j.present, j.dealt_at,
       p.name AS dealt_by
  FROM joint_sample j JOIN person p ON p.id = j.dealt_by
 WHERE j.lot = $1
 ORDER BY j.serial;

-- name: joint_piece_add
-- in:   $1 id key, $2 sample text, $3 swatch text, $4 holder holder, $5 entry entry
-- fact: joint_piece
INSERT INTO joint_piece (id, sample, swatch, holder, entry) VALUES ($1, $2, $3, $4, $5);

-- name: joint_piece_of_sample
-- in:   $1 sample text
-- out:  joint_piece
SELECT i.swatch, i.holder, w.tag, w.part, COALESCE(b.number, '') AS bolt_number, w.kept
  FROM joint_piece i JOIN swatch w ON w.id = i.swatch LEFT JOIN bolt b ON b.id = w.bolt
 WHERE i.sample = $1
 ORDER BY w.serial;

-- name: swatch_retained
-- in:   $1 lot text
-- out:  swatch
-- list: retained_list
SELECT w.id, w.tag, w.lot, w.bolt, w.serial, w.part, w.known, w.kept, w.cut_at, p.name AS cut_by, l.ref AS lot_ref,
       COALESCE((SELECT b.number FROM bolt_now b WHERE b.id = w.bolt), '') AS bolt_number
  FROM swatch_now w JOIN person p ON p.id = w.cut_by JOIN lot_goods l ON l.id = w.lot
 WHERE w.lot = $1 AND w.kept <> '' AND NOT EXISTS (SELECT 1 FROM joint_piece i WHERE i.swatch = w.id)
 ORDER BY w.serial;

-- name: dispute_add
-- in:   $1 id text, $2 lot text, $3 serial whole, $4 found_on text or NULL, $5 entry entry
-- from: dispute
-- fact: dispute
INSERT INTO dispute (id, lot, serial, found_on, entry) VALUES ($1, $2, $3, $4, $5);

-- name: dispute_next_serial
-- in:   $1 lot text
-- out:  serial whole
SELECT COALESCE(MAX(serial), 0) + 1 AS serial FROM dispute WHERE lot = $1;

-- name: dispute_of_lot
-- in:   $1 lot text
-- out:  dispute
SELECT id, lot, serial, found_on FROM dispute_now WHERE lot = $1 ORDER BY serial;

-- name: dispute_step_add
-- in:   $1 id text, $2 dispute text, $3 step step, $4 day text, $5 words text or '', $6 due text or NULL,
--       $7 remedy remedy, $8 amount number or NULL, $9 currency text or '', $10 channel text or '',
--       $11 proof text or '', $12 document text or NULL, $13 keep_until text or NULL, $14 recorded_at text,
--       $15 recorded_by person, $16 entry entry
-- from: dispute_step
-- fact: dispute_step
INSERT INTO dispute_step (id, dispute, step, day, words, due, remedy, amount, currency, channel, proof, document,
                          keep_until, recorded_at, recorded_by, entry)
VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15, $16);

-- name: dispute_step_of_dispute
-- in:   $1 dispute text
-- out:  dispute_step
SELECT s.id, s.dispute, s.step, s.day, s.words, s.due, s.remedy, s.amount, s.currency, s.channel, s.proof, s.document,
       s.keep_until, s.recorded_at, p.name AS recorded_by, COALESCE(a.name, '') AS document_name,
       COALESCE(a.sha256, '') AS document_sha256
  FROM dispute_step_now s JOIN person p ON p.id = s.recorded_by LEFT JOIN attachment a ON a.id = s.document
 WHERE s.dispute = $1
 ORDER BY s.entry, s.id;

-- name: dispute_step_voided_of_lot
-- in:   $1 lot text
-- out:  dispute_step
-- list: dispute_step_voided_list
SELECT s.id, s.dispute, s.step, s.day, s.words, s.due, s.remedy, s.amount, s.currency, s.channel, s.proof, s.document,
       s.keep_until, s.recorded_at, p.name AS recorded_by, COALESCE(a.name, '') AS document_name,
       COALESCE(a.sha256, '') AS document_sha256
  FROM dispute_step s JOIN dispute d ON d.id = s.dispute JOIN person p ON p.id = s.recorded_by
  LEFT JOIN attachment a ON a.id = s.document
 WHERE d.lot = $1 AND EXISTS (SELECT 1 FROM void_span v WHERE v.subject = s.id AND v.until IS NULL)
 ORDER BY s.entry, s.id;

-- name: money_steps
-- out:  money_step
-- list: money_step_list
SELECT s.dispute, l.supplier, l.supplier_name AS name, s.day, s.step, s.amount, s.currency,
       CASE WHEN EXISTS (SELECT 1 FROM dispute_open o WHERE o.id = s.dispute) THEN 1 ELSE 0 END AS open
  FROM dispute_step_now s JOIN dispute_now d ON d.id = s.dispute JOIN lot_now l ON l.id = d.lot
 WHERE s.amount IS NOT NULL
 ORDER BY l.supplier_name, l.supplier, d.entry, d.id, s.entry, s.id;

-- Of a lot the bolts that are held or went back, as each of them stands; NULL where the length of one is not known.
-- name: claimed_part
-- in:   $1 lot text, $2 standing standing (of the lot)
-- out:  claimed_part
SELECT COUNT(*) AS bolts, SUM(b.metres) AS metres, COALESCE(SUM(CASE WHEN b.metres IS NULL THEN b.kg END), 0.0) AS kg
  FROM bolt_now b LEFT JOIN bolt_standing_now x ON x.bolt = b.id
 WHERE b.lot = $1 AND COALESCE(x.standing, $2) IN ('held', 'returned');

-- Verdicts against the words of a lot. One that rests in part on what is void now is no verdict any more. Where what is left
-- contradicts too, the term runs from the day it did: nobody gains days by taking a record back.
-- name: verdict_against_of_lot
-- in:   $1 lot text
-- out:  verdict_against
-- list: verdict_against_list
SELECT substr(v.judged_at, 1, 10) AS day, v.entry,
       CASE WHEN EXISTS (SELECT 1 FROM declaration_void d WHERE d.lot = $1 AND d.since = v.entry) THEN 'void' ELSE j.verb END AS verb,
       COALESCE(g.bolts, '') AS against
  FROM verdict v JOIN journal j ON j.number = v.entry LEFT JOIN verdict_grade g ON g.verdict = v.id
 WHERE v.lot = $1 AND v.verdict = 'contradicts'
   AND (EXISTS (SELECT 1 FROM verdict_now n WHERE n.id = v.id)
        OR ('contradicts' = (SELECT n.verdict FROM verdict_now n WHERE n.lot = $1
                              ORDER BY n.entry DESC, n.id DESC LIMIT 1)
            AND (EXISTS (SELECT 1 FROM burn_now b JOIN swatch_now w ON w.id = b.swatch
                          WHERE w.lot = $1 AND b.entry <= v.entry)
              OR EXISTS (SELECT 1 FROM bench_test_now x JOIN swatch_now w ON w.id = x.swatch
                          WHERE w.lot = $1 AND x.entry <= v.entry))))
 ORDER BY v.entry, v.id;

-- What was burned and tested of a lot, void or not: the day it was looked at, and the day that was written down.
-- name: looked_at_of_lot
-- in:   $1 lot text
-- out:  looked_at
-- list: looked_at_list
SELECT substr(b.burned_at, 1, 10) AS day, substr(b.recorded_at, 1, 10) AS typed, b.entry, COALESCE(o.number, '') AS number,
       CASE WHEN b.replaces IS NULL THEN 0 ELSE 1 END AS corrects,
       CASE WHEN EXISTS (SELECT 1 FROM burn_now n WHERE n.id = b.id) THEN 1 ELSE 0 END AS counts
  FROM burn b JOIN swatch w ON w.id = b.swatch LEFT JOIN bolt o ON o.id = w.bolt
 WHERE w.lot = $1
UNION ALL
SELECT substr(t.tested_at, 1, 10), substr(j.at, 1, 10), t.entry, COALESCE(o.number, ''),
       CASE WHEN t.replaces IS NULL THEN 0 ELSE 1 END,
       CASE WHEN EXISTS (SELECT 1 FROM bench_test_now n WHERE n.id = t.id) THEN 1 ELSE 0 END
  FROM bench_test t JOIN journal j ON j.number = t.entry JOIN swatch w ON w.id = t.swatch LEFT JOIN bolt o ON o.id = w.bolt
 WHERE w.lot = $1
 ORDER BY 3, 1;

-- The day of the first laboratory result that does not conform; NULL where there is none.
-- name: not_conforming
-- in:   $1 lot text
-- out:  day text or NULL
SELECT MIN(a.analysed_on) AS day FROM analysis_now a WHERE a.lot = $1 AND a.answers LIKE '%:does_not_conform%';

-- name: lot_claims
-- out:  ref text
-- list: claim_lots
SELECT x.ref
  FROM (SELECT l.id, l.ref, d.arrived,
               (SELECT t.standing FROM standing_now t WHERE t.lot = l.id ORDER BY t.entry DESC, t.id DESC LIMIT 1)
                 AS standing,
               CASE WHEN EXISTS (SELECT 1 FROM bolt_standing_now x WHERE x.lot = l.id AND x.standing = 'returned')
                    THEN 1 ELSE 0 END AS part_returned,
               CASE WHEN 'contradicts' = (SELECT v.verdict FROM verdict_now v WHERE v.lot = l.id
                                           ORDER BY v.entry DESC, v.id DESC LIMIT 1)
                      OR EXISTS (SELECT 1 FROM analysis_now a WHERE a.lot = l.id AND a.answers LIKE '%:does_not_conform%')
                    THEN 1 ELSE 0 END AS found,
               CASE WHEN EXISTS (SELECT 1 FROM dispute_now o WHERE o.lot = l.id) THEN 1 ELSE 0 END AS ever,
               CASE WHEN EXISTS (SELECT 1 FROM dispute_open o WHERE o.lot = l.id) THEN 1 ELSE 0 END AS disputed
          FROM lot_goods l JOIN delivery_now d ON d.id = l.delivery WHERE l.voided = 0) x
 WHERE x.standing = 'held' OR x.disputed = 1
    OR (x.ever = 0 AND x.found = 1 AND COALESCE(x.standing, 'waiting') = 'waiting')
    OR (x.ever = 0 AND x.standing = 'relabelled'
        AND (x.found = 1 OR EXISTS (SELECT 1 FROM lot_said s WHERE s.lot = x.id AND s.verdict = 'contradicts')))
    OR (x.ever = 0 AND (x.standing = 'returned' OR x.part_returned = 1))
 ORDER BY x.arrived, x.ref;
