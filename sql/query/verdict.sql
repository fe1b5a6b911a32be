-- Verdicts and standings of lots.

-- row:  judged (tenterbook/bench.h): id text, lot text, verdict verdict, log_ratio number or NULL,
--       bolts_burnt whole, bolts whole, reference text, detail text, judged_at text, judged_by text, entry whole,
--       bolts_tested whole, gone whole, grade text or '', lowest number or NULL, highest number or NULL, one_look flag,
--       against text or '', untested flag
-- row:  standing (tenterbook/bench.h): id text, lot text, standing standing, why text, old_words text, new_words text,
--       goods_of text, settled_at text, settled_by text, gone flag
-- row:  bolt_standing (tenterbook/bench.h): id text, lot text, bolt text, standing standing, why text, settled_at text,
--       settled_by text, number text, counts flag
-- row:  lot_said (tenterbook/bench.h): lot text, ref text, supplier text, arrived text, metres number or NULL,
--       unit_price number or NULL, currency text, held_metres number, said text, clear flag, judged text or NULL, judged_at text or NULL,
--       verdict verdict, log_ratio number or NULL, detail text, grade text, lowest number or NULL, highest number or NULL,
--       one_look flag, against text, analyses whole, tests whole, supplier_name text, untested flag,
--       at_odds flag, seen text or NULL
-- row:  lot_word (tenterbook/bench.h): lot text, ref text, supplier text, arrived text, said text, clear flag, verdict verdict,
--       analyses whole, lots whole
-- row:  standing_verdict (tenterbook/outdated.h): ref text, delivery text, supplier text, arrived text, verdict verdict,
--       log_ratio number or NULL, reference text, detail text, judged_at text, judged_by text, grade text, lowest number or NULL,
--       highest number or NULL, one_look flag, analyses whole
-- row:  settled (tenterbook/bench.h): standing standing, settled_at text, settled_by text, fresh flag

-- name: verdict_add
-- in:   $1 id text, $2 lot text, $3 verdict verdict, $4 log_ratio number, $5 bolts_burnt whole, $6 bolts whole,
--       $7 reference text, $8 detail text, $9 judged_at text, $10 judged_by person, $11 entry entry
-- from: judged
-- fact: verdict
INSERT INTO verdict (id, lot, verdict, log_ratio, bolts_burnt, bolts, reference, detail, judged_at, judged_by, entry)
VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11);

-- name: verdict_grade_add
-- in:   $1 id key, $2 lot text, $3 verdict text, $4 grade text, $5 lowest number, $6 highest number, $7 one_look flag,
--       $8 bolts text or '', $9 entry entry
-- fact: verdict_grade
INSERT INTO verdict_grade (id, lot, verdict, grade, lowest, highest, one_look, bolts, entry)
VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9);

-- Where nothing could be weighed a ratio of exactly 0 is stored, which no weighing gives: it is read as none.
-- Latest by journal row, not by clock; clocks go wrong and the journal does not.
-- name: verdict_latest
-- in:   $1 lot text
-- out:  judged
-- find: judged_latest
SELECT v.id, v.lot, v.verdict, NULLIF(v.log_ratio, 0.0) AS log_ratio, v.bolts_burnt, v.bolts, v.reference, v.detail,
       v.judged_at, p.name AS judged_by, v.entry,
       (SELECT COUNT(DISTINCT w.bolt) FROM swatch w
         WHERE w.lot = v.lot
           AND (EXISTS (SELECT 1 FROM burn b
                         WHERE b.swatch = w.id AND b.entry <= v.entry
                           AND NOT EXISTS (SELECT 1 FROM burn_void e WHERE e.burn = b.id AND e.since <= v.entry
                                              AND (e.until IS NULL OR e.until > v.entry)))
             OR EXISTS (SELECT 1 FROM bench_test x
                         WHERE x.swatch = w.id AND x.entry <= v.entry
                           AND NOT EXISTS (SELECT 1 FROM bench_test_void e WHERE e.test = x.id AND e.since <= v.entry
                                              AND (e.until IS NULL OR e.until > v.entry))))) AS bolts_tested, CAST(0 AS BIGINT) AS gone,
       COALESCE(g.grade, '') AS grade, g.lowest, g.highest, COALESCE(g.one_look, 0) AS one_look,
       COALESCE(g.bolts, '') AS against,
       CASE WHEN v.detail LIKE '%"untested":["%' THEN 1 ELSE 0 END AS untested
  FROM verdict_now v JOIN person p ON p.id = v.judged_by
  LEFT JOIN verdict_grade g ON g.verdict = v.id
 WHERE v.lot = $1
 ORDER BY v.entry DESC, v.id DESC LIMIT 1;

-- name: verdict_of_lot
-- in:   $1 lot text
-- out:  judged
-- list: judged_list
SELECT v.id, v.lot, v.verdict, NULLIF(v.log_ratio, 0.0) AS log_ratio, v.bolts_burnt, v.bolts, v.reference, v.detail,
       v.judged_at, p.name AS judged_by, v.entry,
       (SELECT COUNT(DISTINCT w.bolt) FROM swatch w
         WHERE w.lot = v.lot
           AND (EXISTS (SELECT 1 FROM burn b
                         WHERE b.swatch = w.id AND b.entry <= v.entry
                           AND NOT EXISTS (SELECT 1 FROM burn_void e WHERE e.burn = b.id AND e.since <= v.entry
                                              AND (e.until IS NULL OR e.until > v.entry)))
             OR EXISTS (SELECT 1 FROM bench_test x
                         WHERE x.swatch = w.id AND x.entry <= v.entry
                           AND NOT EXISTS (SELECT 1 FROM bench_test_void e WHERE e.test = x.id AND e.since <= v.entry
                                              AND (e.until IS NULL OR e.until > v.entry))))) AS bolts_tested,
       COALESCE((SELECT MIN(e.since) FROM bench_void e
                  WHERE e.lot = v.lot AND e.recorded <= v.entry AND e.since > v.entry), 0) AS gone,
       COALESCE(g.grade, '') AS grade, g.lowest, g.highest, COALESCE(g.one_look, 0) AS one_look,
       COALESCE(g.bolts, '') AS against,
       CASE WHEN v.detail LIKE '%"untested":["%' THEN 1 ELSE 0 END AS untested
  FROM verdict v JOIN person p ON p.id = v.judged_by
  LEFT JOIN verdict_grade g ON g.verdict = v.id
 WHERE v.lot = $1
 ORDER BY v.entry, v.id;

-- The verdicts that count, on the words of suppliers. What was made with the reference named, and has a grade that nothing could
-- have kept from going further, says enough without its details.
-- name: standing_verdict
-- in:   $1 reference text, $2 ref text or NULL (of one lot)
-- out:  standing_verdict
-- list: standing_verdict_list
SELECT l.ref, l.delivery, l.supplier_name AS supplier, l.arrived, l.verdict, l.log_ratio, v.reference,
       CASE WHEN v.reference = $1 AND l.grade IN ('fits', 'contradicts') THEN '' ELSE v.detail END AS detail,
       v.judged_at, p.name AS judged_by, l.grade, l.lowest, l.highest, l.one_look, l.analyses
  FROM lot_now l JOIN verdict_now v ON v.id = l.judged JOIN person p ON p.id = v.judged_by
 WHERE l.own_words = 0 AND l.ref = COALESCE($2, l.ref)
 ORDER BY l.arrived, l.ref;

-- A case tells standings, and not what a label of ours says: so that stands in a table of its own, and is '' here.

-- name: standing_label_add
-- in:   $1 id key, $2 standing text, $3 old_words text or '', $4 new_words text or '', $5 goods_of text or '', $6 entry entry
-- fact: standing_label
INSERT INTO standing_label (id, standing, old_words, new_words, goods_of, entry) VALUES ($1, $2, $3, $4, $5, $6);

-- name: standing_add
-- in:   $1 id text, $2 lot text, $3 standing standing, $4 why text or '', $5 old_words text or '',
--       $6 new_words text or '', $7 goods_of text or '', $8 settled_at text, $9 settled_by person, $10 entry entry
-- from: standing
-- fact: standing
INSERT INTO standing (id, lot, standing, why, old_words, new_words, goods_of, settled_at, settled_by, entry)
VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10);

-- What was decided of a lot last, and whether anything that a verdict rests on was recorded after it, or is void since.
-- name: settled_last
-- in:   $1 lot text
-- out:  settled
-- find: settled_latest
SELECT t.standing, t.settled_at, p.name AS settled_by,
       CASE WHEN EXISTS (SELECT 1 FROM burn_now b JOIN swatch_now w ON w.id = b.swatch
                          WHERE w.lot = t.lot AND b.entry > t.entry)
              OR EXISTS (SELECT 1 FROM bench_test_now x JOIN swatch_now w ON w.id = x.swatch
                          WHERE w.lot = t.lot AND x.entry > t.entry)
              OR EXISTS (SELECT 1 FROM bench_void e
                          WHERE e.lot = t.lot AND e.recorded <= t.entry AND e.since > t.entry)
              OR EXISTS (SELECT 1 FROM declaration c WHERE c.lot = t.lot AND c.entry > t.entry)
            THEN 1 ELSE 0 END AS fresh
  FROM standing_now t JOIN person p ON p.id = t.settled_by
 WHERE t.lot = $1
 ORDER BY t.entry DESC, t.id DESC LIMIT 1;

-- name: standing_of_lot
-- in:   $1 lot text
-- out:  standing
-- list: standing_list
SELECT t.id, t.lot, t.standing, t.why, COALESCE(x.old_words, t.old_words) AS old_words,
       COALESCE(x.new_words, t.new_words) AS new_words, COALESCE(x.goods_of, t.goods_of) AS goods_of, t.settled_at,
       p.name AS settled_by, CASE WHEN EXISTS (SELECT 1 FROM standing_gone g WHERE g.id = t.id) THEN 1 ELSE 0 END AS gone
  FROM standing t JOIN person p ON p.id = t.settled_by LEFT JOIN standing_label x ON x.standing = t.id
 WHERE t.lot = $1
 ORDER BY t.entry, t.id;

-- name: bolt_standing_add
-- in:   $1 id text, $2 lot text, $3 bolt text, $4 standing standing, $5 why text, $6 settled_at text, $7 settled_by person,
--       $8 entry entry
-- from: bolt_standing
-- fact: bolt_standing
INSERT INTO bolt_standing (id, lot, bolt, standing, why, settled_at, settled_by, entry)
VALUES ($1, $2, $3, $4, $5, $6, $7, $8);

-- All that was decided of single bolts of a lot, and whether it is in force.
-- name: bolt_standing_of_lot
-- in:   $1 lot text
-- out:  bolt_standing
-- list: bolt_standing_list
SELECT s.id, s.lot, s.bolt, s.standing, s.why, s.settled_at, p.name AS settled_by, b.number,
       CASE WHEN EXISTS (SELECT 1 FROM bolt_standing_now n WHERE n.id = s.id) THEN 1 ELSE 0 END AS counts
  FROM bolt_standing s JOIN bolt b ON b.id = s.bolt JOIN person p ON p.id = s.settled_by
 WHERE s.lot = $1
 ORDER BY s.entry, b.id;

-- The same of single bolts that were released.
-- name: bolts_released_last
-- in:   $1 lot text
-- out:  settled
-- find: bolts_released_last
SELECT t.standing, t.settled_at, p.name AS settled_by,
       CASE WHEN EXISTS (SELECT 1 FROM burn_now b JOIN swatch_now w ON w.id = b.swatch
                          WHERE w.lot = t.lot AND b.entry > t.entry)
              OR EXISTS (SELECT 1 FROM bench_test_now x JOIN swatch_now w ON w.id = x.swatch
                          WHERE w.lot = t.lot AND x.entry > t.entry)
              OR EXISTS (SELECT 1 FROM bench_void e
                          WHERE e.lot = t.lot AND e.recorded <= t.entry AND e.since > t.entry)
              OR EXISTS (SELECT 1 FROM declaration c WHERE c.lot = t.lot AND c.entry > t.entry)
            THEN 1 ELSE 0 END AS fresh
  FROM bolt_standing_now t JOIN person p ON p.id = t.settled_by
 WHERE t.lot = $1 AND t.standing = 'released'
 ORDER BY t.entry DESC, t.id DESC LIMIT 1;

-- What the supplier said of lots that arrived within a span, and what was found of those words.
-- name: said_each
-- in:   $1 from text (day of arrival), $2 until text (the day after the last)
-- out:  lot_said
SELECT lot, ref, supplier, arrived, metres, unit_price, currency, held_metres, said, clear, judged, judged_at, verdict,
       log_ratio, detail, grade, lowest, highest, one_look, against, analyses, tests, supplier_name,
       CASE WHEN EXISTS (SELECT 1 FROM verdict u WHERE u.id = judged AND u.detail LIKE '%"untested":["%') THEN 1 ELSE 0 END AS untested,
       CASE WHEN EXISTS (SELECT 1 FROM verdict u WHERE u.id = judged AND u.detail LIKE '%"at_odds":true%') THEN 1 ELSE 0 END AS at_odds,
       (SELECT MAX(substr(x.seen, 1, 10) || ' ' || substr(x.typed, 1, 10)) FROM lot_seen x
         WHERE x.lot = lot_told.lot AND x.entry <= (SELECT e.entry FROM verdict e WHERE e.id = lot_told.judged)) AS seen
  FROM lot_told
 WHERE voided = 0 AND arrived >= $1 AND arrived < $2
 ORDER BY arrived, ref;

-- The same of one lot, void or not.
-- name: said_of_lot
-- in:   $1 lot text
-- out:  lot_said
-- find: said_of_lot
SELECT lot, ref, supplier, arrived, metres, unit_price, currency, held_metres, said, clear, judged, judged_at, verdict,
       log_ratio, detail, grade, lowest, highest, one_look, against, analyses, tests, supplier_name,
       CASE WHEN EXISTS (SELECT 1 FROM verdict u WHERE u.id = judged AND u.detail LIKE '%"untested":["%') THEN 1 ELSE 0 END AS untested,
       CASE WHEN EXISTS (SELECT 1 FROM verdict u WHERE u.id = judged AND u.detail LIKE '%"at_odds":true%') THEN 1 ELSE 0 END AS at_odds,
       (SELECT MAX(substr(x.seen, 1, 10) || ' ' || substr(x.typed, 1, 10)) FROM lot_seen x
         WHERE x.lot = lot_told.lot AND x.entry <= (SELECT e.entry FROM verdict e WHERE e.id = lot_told.judged)) AS seen
  FROM lot_told
 WHERE lot = $1;

-- As little of that as tells how a lot turned out; of a supplier, or of all.
-- name: word_each
-- in:   $1 supplier text or NULL
-- out:  lot_word
SELECT l.id AS lot, l.ref, d.supplier, d.arrived, s.said, s.clear, s.verdict, s.analyses, 1 AS lots
  FROM lot_goods l JOIN delivery_amended d ON d.id = l.delivery JOIN lot_said s ON s.lot = l.id
 WHERE l.voided = 0 AND (CAST($1 AS TEXT) IS NULL OR d.supplier = CAST($1 AS TEXT))
 ORDER BY d.arrived, l.ref;

-- The same of the lots that were judged or analysed, since every verdict asks it of all of them: those of a supplier that no laboratory
-- analysed and that turn out alike are one row, with one of them as their example. Of the view lot_goods only what is void is wanted, and its
-- other columns would take longer to prepare than the rest to run; so would those of lot_said, each where it is asked, if they were not made once.
-- name: word_alike
-- out:  lot_word
WITH s AS MATERIALIZED (SELECT lot, said, clear, verdict, analyses FROM lot_said)
SELECT MIN(l.id) AS lot, MIN(l.ref) AS ref, d.supplier, MIN(d.arrived) AS arrived, MIN(s.said) AS said, s.clear, s.verdict,
       s.analyses, COUNT(*) AS lots
  FROM s JOIN lot l ON l.id = s.lot JOIN delivery_amended d ON d.id = l.delivery
 WHERE NOT EXISTS (SELECT 1 FROM void_span p WHERE p.subject = l.id AND p.until IS NULL) AND (s.verdict <> '' OR s.analyses > 0)
 GROUP BY d.supplier, s.said = '', s.clear, s.verdict, s.analyses, CASE WHEN s.analyses > 0 THEN l.id END;
