-- The month's sheets: rows in the order they are printed, read from a cursor.
--
-- The words and the verdict of a lot are those of the supplier: what was judged before the label was changed here. A lot
-- relabelled with its true words would otherwise count as one that fits, and its supplier with it.
--
-- The grade of a verdict stands in its details, before the reference of its lot: their members are in the order of the
-- alphabet, and a quote within a text of theirs has a backslash before it.

-- row:  month_lot (tenterbook/month.h): id text, ref text, delivery_ref text, note text, arrived text, supplier text,
--       article text, colour text, dye_lot text, origin text, declared text, clear flag, bolts whole,
--       bolts_burnt whole, burns whole, metres number or NULL, unit_price number or NULL, currency text, verdict verdict,
--       log_ratio number or NULL, standing standing, since text or NULL, why text, detail text, analyses whole,
--       words text, bolts_tested whole, tests whole, kg number or NULL, derived whole, unknown whole, in_part whole,
--       grade text, lowest number or NULL, highest number or NULL, one_look flag
-- row:  month_bolt (tenterbook/month.h): id text, number text, metres number or NULL, width_cm number or NULL,
--       mass_gm2 number or NULL, derived flag, standing standing
-- row:  month_tested: bolt text, burns whole, tests whole
-- row:  month_supplier (tenterbook/month.h): name text, deliveries whole, lots whole, bolts whole, metres number,
--       fits whole, contradicts whole, against whole, undecided whole, held whole
-- row:  month_tally (tenterbook/month.h): month text, lots whole, fits whole, contradicts whole, against whole,
--       undecided whole, metres number, held_metres number
-- row:  month_work (tenterbook/month.h): deliveries whole, swatches whole, burns whole, bench_tests whole,
--       verdicts whole, settled whole

-- name: month_lots
-- in:   $1 from text (day of arrival), $2 until text (the day after the last)
-- out:  month_lot
SELECT l.id, l.ref, l.delivery_ref, d.note, l.arrived, l.supplier_name AS supplier, l.article, l.colour, l.dye_lot, l.origin,
       s.said AS declared, s.clear, l.bolts, l.bolts_burnt, l.burns, l.metres,
       l.unit_price, l.currency, s.verdict, s.log_ratio, l.standing,
       t.settled_at AS since, COALESCE(t.why, '') AS why, s.detail, s.analyses, l.declared AS words,
       l.bolts_tested, l.tests, l.kg, l.derived, l.unknown,
       CASE WHEN l.standing <> 'released' THEN z.released WHEN z.singles > z.released
            THEN l.bolts - z.singles + z.released ELSE 0 END AS in_part,
       s.grade, s.lowest, s.highest, s.one_look
  FROM delivery_now d
  JOIN lot_now l ON l.delivery = d.id
  JOIN lot_singles z ON z.lot = l.id
  JOIN lot_said s ON s.lot = l.id
  LEFT JOIN standing_now t
    ON t.id = (SELECT x.id FROM standing_now x WHERE x.lot = l.id ORDER BY x.entry DESC, x.id DESC LIMIT 1)
 WHERE d.arrived >= $1 AND d.arrived < $2
 ORDER BY d.arrived, d.id, l.serial;

-- name: month_bolts
-- in:   $1 lot text
-- out:  month_bolt
SELECT b.id, b.number, b.metres, b.width_cm, b.mass_gm2, b.derived,
       COALESCE((SELECT n.standing FROM bolt_standing_now n WHERE n.bolt = b.id), '') AS standing
  FROM bolt_now b
 WHERE b.lot = $1
 ORDER BY b.id;

-- name: month_tested
-- in:   $1 lot text
-- out:  month_tested
-- The few bolts of a lot that were burnt or tested without a flame, in the order of month_bolts: the two are read side
-- by side, so that the many others cost nothing.
SELECT w.bolt, CAST(SUM((SELECT COUNT(*) FROM burn_now n WHERE n.swatch = w.id)) AS BIGINT) AS burns,
       CAST(SUM((SELECT COUNT(*) FROM bench_test_now x WHERE x.swatch = w.id)) AS BIGINT) AS tests
  FROM swatch_now w
 WHERE w.lot = $1 AND w.bolt IS NOT NULL
 GROUP BY w.bolt
 ORDER BY w.bolt;

-- name: month_suppliers
-- in:   $1 from text (day of arrival), $2 until text (the day after the last)
-- out:  month_supplier
SELECT l.supplier_name AS name, COUNT(DISTINCT l.delivery) AS deliveries, COUNT(*) AS lots,
       CAST(SUM(l.bolts) AS BIGINT) AS bolts, COALESCE(SUM(l.metres), 0.0) AS metres,
       SUM(CASE WHEN v.verdict = 'fits' THEN 1 ELSE 0 END) AS fits,
       SUM(CASE WHEN v.verdict = 'contradicts' THEN 1 ELSE 0 END) AS contradicts,
       SUM(CASE WHEN v.verdict = 'undecided' AND v.detail LIKE '%"grade":"speaks against","id":%' THEN 1 ELSE 0 END) AS against,
       SUM(CASE WHEN v.verdict = 'undecided' AND v.detail NOT LIKE '%"grade":"speaks against","id":%' THEN 1 ELSE 0 END) AS undecided,
       SUM(CASE WHEN l.standing = 'held' THEN 1 ELSE 0 END) AS held
  FROM lot_now l
  LEFT JOIN verdict_now v
    ON v.id = (SELECT x.id FROM verdict_now x
                WHERE x.lot = l.id
                  AND NOT EXISTS (SELECT 1 FROM declaration r
                                   WHERE r.lot = l.id AND r.origin = 'relabel' AND r.entry <= x.entry)
                ORDER BY x.entry DESC, x.id DESC LIMIT 1)
 WHERE l.arrived >= $1 AND l.arrived < $2
 GROUP BY l.supplier, l.supplier_name
 ORDER BY l.supplier_name, l.supplier;

-- name: month_months
-- in:   $1 from text (day of arrival), $2 until text (the day after the last)
-- out:  month_tally
SELECT substr(l.arrived, 1, 7) AS month, COUNT(*) AS lots,
       SUM(CASE WHEN v.verdict = 'fits' THEN 1 ELSE 0 END) AS fits,
       SUM(CASE WHEN v.verdict = 'contradicts' THEN 1 ELSE 0 END) AS contradicts,
       SUM(CASE WHEN v.verdict = 'undecided' AND v.detail LIKE '%"grade":"speaks against","id":%' THEN 1 ELSE 0 END) AS against,
       SUM(CASE WHEN v.verdict = 'undecided' AND v.detail NOT LIKE '%"grade":"speaks against","id":%' THEN 1 ELSE 0 END) AS undecided,
       COALESCE(SUM(l.metres), 0.0) AS metres,
       SUM(CASE WHEN l.standing = 'held' THEN COALESCE(l.metres, 0.0) ELSE 0.0 END) AS held_metres
  FROM lot_now l
  LEFT JOIN verdict_now v
    ON v.id = (SELECT x.id FROM verdict_now x
                WHERE x.lot = l.id
                  AND NOT EXISTS (SELECT 1 FROM declaration r
                                   WHERE r.lot = l.id AND r.origin = 'relabel' AND r.entry <= x.entry)
                ORDER BY x.entry DESC, x.id DESC LIMIT 1)
 WHERE l.arrived >= $1 AND l.arrived < $2
 GROUP BY substr(l.arrived, 1, 7)
 ORDER BY substr(l.arrived, 1, 7);

-- name: month_open
-- in:   $1 until text (the day after the last day of arrival)
-- out:  month_lot
SELECT l.id, l.ref, l.delivery_ref, d.note, l.arrived, l.supplier_name AS supplier, l.article, l.colour, l.dye_lot, l.origin,
       s.said AS declared, s.clear, l.bolts, l.bolts_burnt, l.burns, l.metres,
       l.unit_price, l.currency, s.verdict, s.log_ratio, l.standing,
       t.settled_at AS since, COALESCE(t.why, '') AS why, s.detail, s.analyses, l.declared AS words,
       l.bolts_tested, l.tests, l.kg, l.derived, l.unknown,
       CASE WHEN l.standing <> 'released' THEN z.released WHEN z.singles > z.released
            THEN l.bolts - z.singles + z.released ELSE 0 END AS in_part,
       s.grade, s.lowest, s.highest, s.one_look
  FROM delivery_now d
  JOIN lot_now l ON l.delivery = d.id
  JOIN lot_singles z ON z.lot = l.id
  JOIN lot_said s ON s.lot = l.id
  LEFT JOIN standing_now t
    ON t.id = (SELECT x.id FROM standing_now x WHERE x.lot = l.id ORDER BY x.entry DESC, x.id DESC LIMIT 1)
 WHERE d.arrived < $1 AND l.standing IN ('waiting', 'held')
 ORDER BY d.arrived, d.id, l.serial;

-- name: month_work
-- in:   $1 from text (day), $2 until text (the day after the last)
-- out:  month_work
SELECT (SELECT COUNT(*) FROM delivery_now d WHERE d.arrived >= $1 AND d.arrived < $2) AS deliveries,
       (SELECT COUNT(*) FROM swatch_now w WHERE w.lot IS NOT NULL AND w.cut_at >= $1 AND w.cut_at < $2) AS swatches,
       (SELECT COUNT(*) FROM burn_now b JOIN swatch_now w ON w.id = b.swatch
         WHERE w.lot IS NOT NULL AND b.burned_at >= $1 AND b.burned_at < $2) AS burns,
       (SELECT COUNT(*) FROM bench_test_now t JOIN swatch_now w ON w.id = t.swatch
         WHERE w.lot IS NOT NULL AND t.tested_at >= $1 AND t.tested_at < $2) AS bench_tests,
       (SELECT COUNT(*) FROM verdict_now v WHERE v.judged_at >= $1 AND v.judged_at < $2) AS verdicts,
       (SELECT COUNT(*) FROM standing_now t WHERE t.settled_at >= $1 AND t.settled_at < $2) AS settled;
