-- What laboratories found.

-- row:  analysis (tenterbook/analysis.h): id text, lot text, declaration text or NULL, part part, laboratory text,
--       report text, route text, methods text, found text, u number, answers text, detail text, analysed_on text,
--       recorded_at text, recorded_by text, replaces text or NULL, declared text
-- row:  analysis_corrected: lot text, corrections whole, voided flag
-- row:  lab_settled (tenterbook/analysis.h): lot text, delivery text, part part, found text, declared text,
--       log_ratio number, verdict verdict, grade text or ''
-- row:  lab_judged (tenterbook/analysis.h): delivery text, verdict verdict, grade text or '', lots whole
-- row:  sending (tenterbook/sending.h): id text, lot text, laboratory text, sent_on text, recorded_at text,
--       recorded_by text, answered text or NULL
-- row:  sending_piece (tenterbook/sending.h): swatch text, tag text, part part, bolt_number text

-- name: analysis_add
-- in:   $1 id text, $2 lot text, $3 declaration text or NULL, $4 part part, $5 laboratory text or '',
--       $6 report text or '', $7 route text, $8 methods text, $9 found text, $10 u number, $11 answers text,
--       $12 detail text, $13 analysed_on text, $14 recorded_at text, $15 recorded_by person,
--       $16 replaces text or NULL, $17 entry entry
-- from: analysis
-- fact: analysis
INSERT INTO analysis (id, lot, declaration, part, laboratory, report, route, methods, found, u, answers, detail,
                      analysed_on, recorded_at, recorded_by, replaces, entry)
VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15, $16, $17);

-- name: analysis_of_lot
-- in:   $1 lot text
-- out:  analysis
-- list: analysis_list
SELECT a.id, a.lot, a.declaration, a.part, a.laboratory, a.report, a.route, a.methods, a.found, a.u, a.answers,
       a.detail, a.analysed_on, a.recorded_at, p.name AS recorded_by, a.replaces, COALESCE(d.text, '') AS declared
  FROM analysis_now a JOIN person p ON p.id = a.recorded_by
  LEFT JOIN declaration d ON d.id = a.declaration
 WHERE a.lot = $1
 ORDER BY a.analysed_on, a.entry, a.id;

-- name: analysis_corrected_of_lot
-- in:   $1 lot text
-- out:  analysis
-- list: analysis_corrected_list
SELECT a.id, a.lot, a.declaration, a.part, a.laboratory, a.report, a.route, a.methods, a.found, a.u, a.answers,
       a.detail, a.analysed_on, a.recorded_at, p.name AS recorded_by, a.replaces, COALESCE(d.text, '') AS declared
  FROM analysis a JOIN person p ON p.id = a.recorded_by
  LEFT JOIN declaration d ON d.id = a.declaration
 WHERE a.lot = $1
   AND EXISTS (SELECT 1 FROM analysis r
                WHERE r.replaces = a.id
                  AND NOT EXISTS (SELECT 1 FROM void_span s WHERE s.subject = r.id AND s.until IS NULL))
 ORDER BY a.entry, a.id;

-- name: analysis_voided_of_lot
-- in:   $1 lot text
-- out:  analysis
-- list: analysis_voided_list
SELECT a.id, a.lot, a.declaration, a.part, a.laboratory, a.report, a.route, a.methods, a.found, a.u, a.answers,
       a.detail, a.analysed_on, a.recorded_at, p.name AS recorded_by, a.replaces, COALESCE(d.text, '') AS declared
  FROM analysis a JOIN person p ON p.id = a.recorded_by
  LEFT JOIN declaration d ON d.id = a.declaration
 WHERE a.lot = $1 AND EXISTS (SELECT 1 FROM void_span s WHERE s.subject = a.id AND s.until IS NULL)
 ORDER BY a.entry, a.id;

-- name: analysis_lot_of
-- in:   $1 id text
-- out:  analysis_corrected
SELECT a.lot, (SELECT COUNT(*) FROM analysis r
                WHERE r.replaces = a.id
                  AND NOT EXISTS (SELECT 1 FROM void_span s WHERE s.subject = r.id AND s.until IS NULL)) AS corrections,
       CASE WHEN EXISTS (SELECT 1 FROM void_span s WHERE s.subject = a.id AND s.until IS NULL) THEN 1 ELSE 0 END AS voided
  FROM analysis a WHERE a.id = $1;

-- What laboratories found, as it stood after a journal row, of lots that had a verdict before the first of their analyses
-- was recorded: with the ratio and the words of that verdict. Lots in the order their first analyses came in. A lot that is
-- void has no row, nor one whose verdict rests on what was voided after it.
-- name: lab_settled
-- in:   $1 upto whole (the last journal row that counts)
-- out:  lab_settled
-- list: lab_settled_list
SELECT a.lot, l.delivery, a.part, a.found, d.text AS declared, v.log_ratio, v.verdict, COALESCE(g.grade, '') AS grade
  FROM analysis a
  JOIN lot l ON l.id = a.lot
  JOIN verdict v
    ON v.id = (SELECT x.id FROM verdict x
                WHERE x.lot = a.lot AND x.entry < (SELECT MIN(f.entry) FROM analysis f WHERE f.lot = a.lot)
                ORDER BY x.entry DESC, x.id DESC LIMIT 1)
  LEFT JOIN verdict_grade g ON g.verdict = v.id
  JOIN declaration d
    ON d.id = (SELECT x.id FROM declaration x
                WHERE x.lot = a.lot AND x.entry <= v.entry
                ORDER BY x.entry DESC, x.id DESC LIMIT 1)
 WHERE a.entry <= CAST($1 AS BIGINT) AND v.log_ratio <> 0.0
   AND NOT EXISTS (SELECT 1 FROM void_span s
                    WHERE s.subject = a.lot AND s.since <= CAST($1 AS BIGINT)
                      AND (s.until IS NULL OR s.until > CAST($1 AS BIGINT)))
   AND NOT EXISTS (SELECT 1 FROM swatch w JOIN burn b ON b.swatch = w.id JOIN burn_void e ON e.burn = b.id
                    WHERE w.lot = a.lot AND b.entry <= v.entry AND e.since > v.entry AND e.since <= CAST($1 AS BIGINT)
                      AND (e.until IS NULL OR e.until > CAST($1 AS BIGINT)))
   AND NOT EXISTS (SELECT 1 FROM swatch w JOIN bench_test t ON t.swatch = w.id JOIN bench_test_void e ON e.test = t.id
                    WHERE w.lot = a.lot AND t.entry <= v.entry AND e.since > v.entry AND e.since <= CAST($1 AS BIGINT)
                      AND (e.until IS NULL OR e.until > CAST($1 AS BIGINT)))
   AND NOT EXISTS (SELECT 1 FROM analysis_end e
                    WHERE e.analysis = a.id AND e.since <= CAST($1 AS BIGINT)
                      AND (e.until IS NULL OR e.until > CAST($1 AS BIGINT)))
 ORDER BY (SELECT MIN(f.entry) FROM analysis f WHERE f.lot = a.lot), a.lot, a.entry, a.id;

-- Lots that the bench judged, counted by delivery and by the word of their verdict, as they stood when the last of all
-- analyses up to a journal row came in: by the last verdict before that, and before the first analysis of the lot. What is
-- judged later changes nothing until a laboratory speaks again.
-- name: lab_judged
-- in:   $1 upto whole (the last journal row that counts)
-- out:  lab_judged
-- list: lab_judged_list
SELECT l.delivery, v.verdict, COALESCE(g.grade, '') AS grade, COUNT(*) AS lots
  FROM lot l
  JOIN (SELECT MAX(a.entry) AS entry FROM analysis a WHERE a.entry <= CAST($1 AS BIGINT)) z ON z.entry IS NOT NULL
  JOIN verdict v
    ON v.id = (SELECT x.id FROM verdict x
                WHERE x.lot = l.id
                  AND x.entry < COALESCE((SELECT MIN(f.entry) FROM analysis f WHERE f.lot = l.id AND f.entry <= z.entry),
                                         z.entry)
                ORDER BY x.entry DESC, x.id DESC LIMIT 1)
  LEFT JOIN verdict_grade g ON g.verdict = v.id
 WHERE v.log_ratio <> 0.0
   AND NOT EXISTS (SELECT 1 FROM void_span s
                    WHERE s.subject = l.id AND s.since <= z.entry AND (s.until IS NULL OR s.until > z.entry))
 GROUP BY l.delivery, v.verdict, g.grade
 ORDER BY l.delivery, v.verdict, g.grade;

-- name: sending_add
-- in:   $1 id text, $2 lot text, $3 laboratory text, $4 sent_on text, $5 recorded_at text, $6 recorded_by person,
--       $7 entry entry
-- from: sending
-- fact: sending
INSERT INTO sending (id, lot, laboratory, sent_on, recorded_at, recorded_by, entry) VALUES ($1, $2, $3, $4, $5, $6, $7);

-- name: sending_piece_add
-- in:   $1 id key, $2 sending text, $3 swatch text, $4 entry entry
-- fact: sending_piece
INSERT INTO sending_piece (id, sending, swatch, entry) VALUES ($1, $2, $3, $4);

-- name: sending_of_lot
-- in:   $1 lot text
-- out:  sending
SELECT s.id, s.lot, s.laboratory, s.sent_on, s.recorded_at, p.name AS recorded_by,
       (SELECT MIN(x.analysed_on) FROM sending_answer x WHERE x.sending = s.id) AS answered
  FROM sending_now s JOIN person p ON p.id = s.recorded_by
 WHERE s.lot = $1
 ORDER BY s.sent_on, s.entry, s.id;

-- name: sending_piece_of_sending
-- in:   $1 sending text
-- out:  sending_piece
SELECT i.swatch, w.tag, w.part, COALESCE((SELECT b.number FROM bolt_now b WHERE b.id = w.bolt), '') AS bolt_number
  FROM sending_piece i JOIN swatch_now w ON w.id = i.swatch
 WHERE i.sending = $1
 ORDER BY w.serial;

-- name: sending_voided
-- in:   $1 id text
-- out:  n whole
SELECT COUNT(*) AS n FROM sending s JOIN void_span v ON v.subject = s.id WHERE s.id = $1 AND v.until IS NULL;
