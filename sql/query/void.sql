-- What was recorded by mistake and is void, and what of a delivery was amended.

-- row:  voiding (tenterbook/void.h): id text, about text, subject text, lot text or NULL, why text, instead text,
--       voided_at text, voided_by text, replaces text or NULL, ref text, back_at text or NULL, back_by text, back_why text
-- row:  void_subject (tenterbook/void.h): about text, id text, lot text or NULL, ref text, lot_ref text, replaces text or NULL,
--       corrected_by text or NULL
-- row:  hanging (tenterbook/void.h): lots whole, bolts whole, swatches whole, burns whole, tests whole, uses whole,
--       analyses whole, draws whole, sendings whole, answers whole, singles whole, decisions whole, holds whole, dealt whole,
--       disputes whole, beside whole
-- row:  amendment (tenterbook/void.h): id text, delivery text, lot text, field text, old text, new text,
--       supplier text or NULL, why text, amended_at text, amended_by text

-- row:  moved (tenterbook/void.h): record text, from_tag text, moved_at text, moved_by text, why text

-- Burns and tests of a lot (NULL: of known cloth) that were recorded of another swatch first, by that swatch.
-- name: moved_of_lot
-- in:   $1 lot text or NULL
-- out:  moved
-- list: moved_list
SELECT v.instead AS record, COALESCE(wb.tag, wt.tag, '') AS from_tag, v.voided_at AS moved_at, p.name AS moved_by, v.why
  FROM voiding v JOIN person p ON p.id = v.voided_by
  LEFT JOIN burn b ON b.id = v.subject LEFT JOIN swatch wb ON wb.id = b.swatch
  LEFT JOIN bench_test t ON t.id = v.subject LEFT JOIN swatch wt ON wt.id = t.swatch
 WHERE v.instead <> '' AND v.replaces IS NULL
   AND v.instead IN (SELECT x.id FROM burn x JOIN swatch w ON w.id = x.swatch WHERE w.lot IS NOT DISTINCT FROM CAST($1 AS TEXT)
                     UNION ALL
                     SELECT y.id FROM bench_test y JOIN swatch w ON w.id = y.swatch
                      WHERE w.lot IS NOT DISTINCT FROM CAST($1 AS TEXT))
 ORDER BY v.entry, v.id;

-- name: voiding_add
-- in:   $1 id text, $2 about text, $3 subject text, $4 lot text or NULL, $5 why text, $6 instead text or '',
--       $7 voided_at text, $8 voided_by person, $9 replaces text or NULL, $10 entry entry
-- from: voiding
-- fact: voiding
INSERT INTO voiding (id, about, subject, lot, why, instead, voided_at, voided_by, replaces, entry)
VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10);

-- All of a lot, those taken back too. NULL: of known cloth, and of deliveries.
-- name: voiding_of_lot
-- in:   $1 lot text or NULL
-- out:  voiding
-- list: voiding_list
SELECT v.id, v.about, v.subject, v.lot, v.why, v.instead, v.voided_at, p.name AS voided_by, v.replaces,
       COALESCE(l.ref, o.number, w.tag, wb.tag, wt.tag, d.ref, a.laboratory, y.step, n.laboratory, '') AS ref, r.voided_at AS back_at,
       COALESCE(q.name, '') AS back_by, COALESCE(r.why, '') AS back_why
  FROM voiding v JOIN person p ON p.id = v.voided_by
  LEFT JOIN voiding r ON r.replaces = v.id LEFT JOIN person q ON q.id = r.voided_by
  LEFT JOIN lot l ON l.id = v.subject LEFT JOIN bolt o ON o.id = v.subject LEFT JOIN swatch w ON w.id = v.subject
  LEFT JOIN burn b ON b.id = v.subject LEFT JOIN swatch wb ON wb.id = b.swatch
  LEFT JOIN bench_test t ON t.id = v.subject LEFT JOIN swatch wt ON wt.id = t.swatch
  LEFT JOIN delivery d ON d.id = v.subject LEFT JOIN analysis a ON a.id = v.subject
  LEFT JOIN dispute_step y ON y.id = v.subject LEFT JOIN sending n ON n.id = v.subject
 WHERE v.lot IS NOT DISTINCT FROM CAST($1 AS TEXT) AND v.replaces IS NULL
 ORDER BY v.entry, v.id;

-- Why a delivery, a lot, a swatch or a bolt of this name does not count any more: it, its bolt or its lot is void.
-- name: voiding_of_ref
-- in:   $1 ref text
-- out:  voiding
SELECT v.id, v.about, v.subject, v.lot, v.why, v.instead, v.voided_at, p.name AS voided_by, v.replaces,
       COALESCE(l.ref, o.number, w.tag, d.ref, '') AS ref, NULL AS back_at, '' AS back_by, '' AS back_why
  FROM void_span s JOIN voiding v ON v.id = s.id JOIN person p ON p.id = v.voided_by
  LEFT JOIN lot l ON l.id = v.subject LEFT JOIN bolt o ON o.id = v.subject LEFT JOIN swatch w ON w.id = v.subject
  LEFT JOIN delivery d ON d.id = v.subject
 WHERE s.until IS NULL
   AND (s.subject IN (SELECT x.id FROM delivery x WHERE x.ref = $1)
     OR s.subject IN (SELECT x.id FROM lot x WHERE x.ref = $1)
     OR s.subject IN (SELECT x.id FROM swatch x WHERE x.tag = $1)
     OR s.subject IN (SELECT x.bolt FROM swatch x WHERE x.tag = $1)
     OR s.subject IN (SELECT x.lot FROM swatch x WHERE x.tag = $1)
     OR s.subject IN (SELECT x.id FROM bolt x WHERE UPPER(LTRIM(x.number, '0')) = UPPER(LTRIM($1, '0')))
     OR s.subject IN (SELECT x.lot FROM bolt x WHERE x.number = $1))
 ORDER BY CASE WHEN o.number <> $1 THEN 1 ELSE 0 END, v.entry, v.id LIMIT 1;

-- Everything that counts and is called so: a delivery, a lot, a swatch, a burn, a test, or a bolt of the lot named or of any.
-- name: void_subjects
-- in:   $1 name text, $2 lot text or NULL (reference)
-- out:  void_subject
-- list: void_subjects
SELECT 'delivery' AS about, d.id, NULL AS lot, d.ref, '' AS lot_ref, NULL AS replaces, NULL AS corrected_by
  FROM delivery_now d WHERE d.ref = $1
UNION ALL
SELECT 'lot', l.id, l.id, l.ref, l.ref, NULL, NULL FROM lot_goods l WHERE l.ref = $1 AND l.voided = 0
UNION ALL
SELECT 'swatch', w.id, w.lot, w.tag, COALESCE(l.ref, ''), NULL, NULL
  FROM swatch_now w LEFT JOIN lot_goods l ON l.id = w.lot WHERE w.tag = $1
UNION ALL
SELECT 'burn', b.id, w.lot, w.tag, COALESCE(l.ref, ''), b.replaces, (SELECT MAX(r.id) FROM burn r
         WHERE r.replaces = b.id AND NOT EXISTS (SELECT 1 FROM void_span s WHERE s.subject = r.id AND s.until IS NULL))
  FROM burn b JOIN swatch_now w ON w.id = b.swatch LEFT JOIN lot_goods l ON l.id = w.lot
 WHERE b.id = $1 AND NOT EXISTS (SELECT 1 FROM burn_void e WHERE e.burn = b.id AND e.until IS NULL)
UNION ALL
SELECT 'bench_test', t.id, w.lot, w.tag, COALESCE(l.ref, ''), t.replaces,
       (SELECT MAX(r.id) FROM bench_test r
         WHERE r.replaces = t.id AND NOT EXISTS (SELECT 1 FROM void_span s WHERE s.subject = r.id AND s.until IS NULL))
  FROM bench_test t JOIN swatch_now w ON w.id = t.swatch LEFT JOIN lot_goods l ON l.id = w.lot
 WHERE t.id = $1 AND NOT EXISTS (SELECT 1 FROM bench_test_void e WHERE e.test = t.id AND e.until IS NULL)
UNION ALL
SELECT 'analysis', a.id, a.lot, a.laboratory, l.ref, a.replaces, (SELECT MAX(r.id) FROM analysis r
         WHERE r.replaces = a.id AND NOT EXISTS (SELECT 1 FROM void_span s WHERE s.subject = r.id AND s.until IS NULL))
  FROM analysis a JOIN lot_goods l ON l.id = a.lot AND l.voided = 0
 WHERE a.id = $1 AND NOT EXISTS (SELECT 1 FROM void_span s WHERE s.subject = a.id AND s.until IS NULL)
UNION ALL
SELECT 'dispute_step', t.id, d.lot, t.step, l.ref, NULL, NULL
  FROM dispute_step_now t JOIN dispute_now d ON d.id = t.dispute JOIN lot_goods l ON l.id = d.lot AND l.voided = 0
 WHERE t.id = $1
UNION ALL
SELECT 'sending', n.id, n.lot, n.laboratory, l.ref, NULL, NULL
  FROM sending_now n JOIN lot_goods l ON l.id = n.lot AND l.voided = 0
 WHERE n.id = $1
UNION ALL
SELECT 'bolt', b.id, b.lot, b.number, l.ref, NULL, NULL
  FROM bolt_now b JOIN lot_goods l ON l.id = b.lot
 WHERE b.number = $1 AND (CAST($2 AS TEXT) IS NULL OR l.ref = CAST($2 AS TEXT));

-- What hangs on one of them; beside: how many others its lot or its delivery would be left with.
-- name: hanging
-- in:   $1 id text
-- out:  hanging
SELECT (SELECT COUNT(*) FROM lot_goods l WHERE l.delivery = $1 AND l.voided = 0) AS lots,
       (SELECT COUNT(*) FROM bolt_now b
         WHERE b.lot IN (SELECT l.id FROM lot_goods l WHERE l.id = $1 OR l.delivery = $1)) AS bolts,
       (SELECT COUNT(*) FROM swatch_now w
         WHERE w.bolt = $1 OR w.lot IN (SELECT l.id FROM lot_goods l WHERE l.id = $1 OR l.delivery = $1)) AS swatches,
       (SELECT COUNT(*) FROM swatch_now w JOIN burn_now b ON b.swatch = w.id
         WHERE w.id = $1 OR w.bolt = $1
            OR w.lot IN (SELECT l.id FROM lot_goods l WHERE l.id = $1 OR l.delivery = $1)) AS burns,
       (SELECT COUNT(*) FROM swatch_now w JOIN bench_test_now t ON t.swatch = w.id
         WHERE w.id = $1 OR w.bolt = $1
            OR w.lot IN (SELECT l.id FROM lot_goods l WHERE l.id = $1 OR l.delivery = $1)) AS tests,
       (SELECT COUNT(*) FROM bolt_use_now u JOIN bolt_now b ON b.id = u.bolt
         WHERE b.id = $1 OR b.lot IN (SELECT l.id FROM lot_goods l WHERE l.id = $1 OR l.delivery = $1)) AS uses,
       (SELECT COUNT(*) FROM analysis_now a
         WHERE a.lot IN (SELECT l.id FROM lot_goods l WHERE l.id = $1 OR l.delivery = $1)) AS analyses,
       (SELECT COUNT(DISTINCT x.draw) FROM draw_bolt x JOIN bolt_now b ON b.id = x.bolt
         WHERE b.id = $1 OR b.lot IN (SELECT l.id FROM lot_goods l WHERE l.id = $1 OR l.delivery = $1)) AS draws,
       (SELECT COUNT(DISTINCT n.id) FROM sending_now n JOIN sending_piece i ON i.sending = n.id JOIN swatch_now w ON w.id = i.swatch
         WHERE w.id = $1 OR w.bolt = $1
            OR w.lot IN (SELECT l.id FROM lot_goods l WHERE l.id = $1 OR l.delivery = $1)) AS sendings,
       (SELECT COUNT(*) FROM drill_answer a JOIN burn_now b ON b.id = a.burn WHERE b.id = $1 OR b.swatch = $1) AS answers,
       (SELECT COUNT(*) FROM bolt_standing_now t JOIN bolt_now b ON b.id = t.bolt
         WHERE b.id = $1 OR b.lot IN (SELECT l.id FROM lot_goods l WHERE l.id = $1 OR l.delivery = $1)) AS singles,
       (SELECT COUNT(*) FROM standing_now t
         WHERE t.lot IN (SELECT l.id FROM lot_goods l WHERE l.id = $1 OR l.delivery = $1)
           AND NOT EXISTS (SELECT 1 FROM verdict_now v WHERE v.lot = t.lot AND v.entry = t.entry AND t.standing = 'held'))
         AS decisions,
       (SELECT COUNT(*) FROM standing_now t
         WHERE t.standing = 'held'
           AND t.lot IN (SELECT w.lot FROM swatch_now w WHERE w.id = $1 OR w.bolt = $1
                          UNION SELECT w.lot FROM burn_now b JOIN swatch_now w ON w.id = b.swatch WHERE b.id = $1
                          UNION SELECT w.lot FROM bench_test_now x JOIN swatch_now w ON w.id = x.swatch WHERE x.id = $1
                          UNION SELECT l.id FROM lot_goods l WHERE l.id = $1 OR l.delivery = $1)
           AND EXISTS (SELECT 1 FROM verdict_now v WHERE v.lot = t.lot AND v.entry = t.entry AND v.verdict = 'contradicts')
           AND NOT EXISTS (SELECT 1 FROM standing_now r
                            WHERE r.lot = t.lot AND (r.entry > t.entry OR (r.entry = t.entry AND r.id > t.id)))
           AND (EXISTS (SELECT 1 FROM burn_now b JOIN swatch_now w ON w.id = b.swatch
                         WHERE (b.id = $1 OR w.id = $1 OR w.bolt = $1) AND b.entry <= t.entry)
             OR EXISTS (SELECT 1 FROM bench_test_now x JOIN swatch_now w ON w.id = x.swatch
                         WHERE (x.id = $1 OR w.id = $1 OR w.bolt = $1) AND x.entry <= t.entry)
             OR t.lot IN (SELECT l.id FROM lot_goods l WHERE l.id = $1 OR l.delivery = $1))) AS holds,
       (SELECT COUNT(*) FROM joint_piece i JOIN swatch_now w ON w.id = i.swatch
         WHERE w.id = $1 OR w.bolt = $1
            OR w.lot IN (SELECT l.id FROM lot_goods l WHERE l.id = $1 OR l.delivery = $1)) AS dealt,
       (SELECT COUNT(*) FROM dispute_open d
         WHERE d.lot IN (SELECT l.id FROM lot_goods l WHERE l.id = $1 OR l.delivery = $1)) AS disputes,
       (SELECT COUNT(*) FROM bolt_now b JOIN bolt_now o ON o.lot = b.lot AND o.id <> b.id WHERE b.id = $1)
         + (SELECT COUNT(*) FROM lot_goods l JOIN lot_goods o ON o.delivery = l.delivery AND o.id <> l.id AND o.voided = 0
             WHERE l.id = $1) AS beside;

-- What of this name is void by itself: by its reference, its tag, its number and lot, or its id; a number written just so first, then
-- those that differ in letter case and in the zeros before them.
-- name: voiding_open
-- in:   $1 name text, $2 lot text or NULL (reference)
-- out:  voiding
-- list: voiding_open
SELECT v.id, v.about, v.subject, v.lot, v.why, v.instead, v.voided_at, p.name AS voided_by, v.replaces,
       COALESCE(l.ref, o.number, w.tag, d.ref, '') AS ref, NULL AS back_at, '' AS back_by, '' AS back_why
  FROM void_span s JOIN voiding v ON v.id = s.id JOIN person p ON p.id = v.voided_by
  LEFT JOIN lot l ON l.id = v.subject LEFT JOIN swatch w ON w.id = v.subject LEFT JOIN delivery d ON d.id = v.subject
  LEFT JOIN bolt o ON o.id = v.subject LEFT JOIN lot ol ON ol.id = o.lot
 WHERE s.until IS NULL
   AND (v.subject = $1 OR l.ref = $1 OR w.tag = $1 OR d.ref = $1
     OR (UPPER(LTRIM(o.number, '0')) = UPPER(LTRIM($1, '0'))
         AND (CAST($2 AS TEXT) IS NULL OR ol.ref = CAST($2 AS TEXT))))
 ORDER BY CASE WHEN o.number <> $1 THEN 1 ELSE 0 END, v.entry, v.id;

-- Those that were recorded together with one: a delivery and its lots.
-- name: voiding_with
-- in:   $1 id text
-- out:  voiding
-- list: voiding_with
SELECT v.id, v.about, v.subject, v.lot, v.why, v.instead, v.voided_at, p.name AS voided_by, v.replaces,
       '' AS ref, NULL AS back_at, '' AS back_by, '' AS back_why
  FROM voiding x JOIN voiding v ON v.entry = x.entry JOIN void_span s ON s.id = v.id JOIN person p ON p.id = v.voided_by
 WHERE x.id = $1 AND s.until IS NULL
 ORDER BY v.id;

-- name: amendment_add
-- in:   $1 id text, $2 delivery text, $3 lot text, $4 field text, $5 old text, $6 new text, $7 supplier text or NULL,
--       $8 why text, $9 amended_at text, $10 amended_by person, $11 entry entry
-- from: amendment
-- fact: amendment
INSERT INTO amendment (id, delivery, lot, field, old, new, supplier, why, amended_at, amended_by, entry)
VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11);

-- name: amendment_of_lot
-- in:   $1 lot text
-- out:  amendment
-- list: amendment_list
SELECT a.id, a.delivery, a.lot, a.field, a.old, a.new, a.supplier, a.why, a.amended_at, p.name AS amended_by
  FROM amendment a JOIN person p ON p.id = a.amended_by
 WHERE a.lot = $1
 ORDER BY a.entry, a.id;

-- name: supplier_same_add
-- in:   $1 id key, $2 supplier text, $3 same_as text, $4 why text, $5 set_at now, $6 set_by person, $7 entry entry
-- fact: supplier_same
INSERT INTO supplier_same (id, supplier, same_as, why, set_at, set_by, entry) VALUES ($1, $2, $3, $4, $5, $6, $7);
