-- The month's sheets: rows in the order they are printed, read from a cursor.
--
-- The words and the verdict of a lot are those of the supplier: what was judged before the label was changed here. A lot
-- relabelled with its true words would otherwise count as one that fits, and its supplier with it.

-- row:  month_lot (tenterbook/month.h): id text, ref text, delivery_ref text, note text, arrived text, supplier text,
--       article text, colour text, dye_lot text, origin text, declared text, clear flag, bolts whole,
--       bolts_burnt whole, burns whole, metres number or NULL, price number or NULL, currency text, verdict verdict,
--       log_ratio number or NULL, standing standing, since text or NULL, why text, detail text, analyses whole,
--       words text, bolts_tested whole, tests whole, kg number or NULL, derived whole, unknown whole,
--       grade text, lowest number or NULL, highest number or NULL, one_look flag, judged text or NULL, judged_at text or NULL,
--       bolts_against text, released_single whole, returned_single whole, held_single whole, released_metres number,
--       returned_metres number, held_metres number, unit text, unit_metres number or NULL, untested flag,
--       at_odds flag, seen text or NULL, weight_kg number or NULL, bolts_weighed whole
-- row:  month_bolt (tenterbook/month.h): id text, number text, metres number or NULL, kg number or NULL, width_cm number or NULL,
--       mass_gm2 number or NULL, derived flag, standing standing, weight_kg number or NULL
-- row:  month_weight: standing standing, unmeasured number, total number
-- row:  month_tested: bolt text, burns whole, tests whole
-- row:  month_work (tenterbook/month.h): deliveries whole, swatches whole, burns whole, bench_tests whole,
--       verdicts whole, settled whole, holds whole, settled_bolts whole, analyses whole
-- row:  month_sent: sent text, answered text or NULL

-- What arrived in a span of days; of that, where asked for, only what is open: what waits or is held, single bolts of a lot too, and
-- what was released before a laboratory answered.
-- name: month_lots
-- in:   $1 from text (day of arrival), $2 until text (the day after the last), $3 open whole (1: only what is open)
-- out:  month_lot
SELECT l.id, l.ref, l.delivery_ref, d.note, l.arrived, l.supplier_name AS supplier, l.article, l.colour, l.dye_lot, l.origin,
       s.said AS declared, s.clear, l.bolts, l.bolts_burnt, l.burns, l.metres,
       i.price, i.currency, s.verdict, s.log_ratio, l.standing,
       t.settled_at AS since, COALESCE(t.why, '') AS why, s.detail, s.analyses, l.declared AS words,
       l.bolts_tested, l.tests, l.kg, l.derived, l.unknown,
       s.grade, s.lowest, s.highest, s.one_look, s.judged, s.judged_at, s.against AS bolts_against,
       z.released AS released_single, z.returned AS returned_single,
       z.singles - z.released - z.returned AS held_single,
       CASE WHEN z.released = 0 THEN 0.0 ELSE COALESCE((SELECT SUM(b.metres) FROM bolt_standing_now x JOIN bolt_now b ON b.id = x.bolt
                                                      WHERE x.lot = l.id AND x.standing = 'released'), 0.0) END AS released_metres,
       CASE WHEN z.returned = 0 THEN 0.0 ELSE COALESCE((SELECT SUM(b.metres) FROM bolt_standing_now x JOIN bolt_now b ON b.id = x.bolt
                                                      WHERE x.lot = l.id AND x.standing = 'returned'), 0.0) END AS returned_metres,
       CASE WHEN z.singles = z.released + z.returned THEN 0.0 ELSE COALESCE((SELECT SUM(b.metres) FROM bolt_standing_now x JOIN bolt_now b ON b.id = x.bolt
                                                      WHERE x.lot = l.id AND x.standing = 'held'), 0.0) END AS held_metres,
       i.unit, i.unit_metres,
       CASE WHEN EXISTS (SELECT 1 FROM verdict u WHERE u.id = s.judged AND u.detail LIKE '%"untested":["%') THEN 1 ELSE 0 END AS untested,
       CASE WHEN EXISTS (SELECT 1 FROM verdict u WHERE u.id = s.judged AND u.detail LIKE '%"at_odds":true%') THEN 1 ELSE 0 END AS at_odds,
       (SELECT MAX(substr(x.seen, 1, 10) || ' ' || substr(x.typed, 1, 10)) FROM lot_seen x
         WHERE x.lot = l.id AND x.entry <= (SELECT e.entry FROM verdict e WHERE e.id = s.judged)) AS seen,
       w.weight_kg, COALESCE(w.weighed, 0) AS bolts_weighed
  FROM delivery_now d
  JOIN lot_now l ON l.delivery = d.id
  LEFT JOIN lot_weighed w ON w.lot = l.id
  JOIN lot_singles z ON z.lot = l.id
  JOIN lot_invoiced i ON i.lot = l.id
  JOIN lot_said s ON s.lot = l.id
  LEFT JOIN standing_now t
    ON t.id = (SELECT x.id FROM standing_now x WHERE x.lot = l.id ORDER BY x.entry DESC, x.id DESC LIMIT 1)
 WHERE d.arrived >= $1 AND d.arrived < $2
   AND (CAST($3 AS BIGINT) = 0 OR l.standing IN ('waiting', 'held') OR z.singles > z.released + z.returned
        OR (l.standing = 'released'
            AND EXISTS (SELECT 1 FROM analysis_now a WHERE a.lot = l.id AND a.entry > t.entry))
        OR (l.standing = 'relabelled' AND EXISTS (SELECT 1 FROM analysis_now a WHERE a.lot = l.id)))
 ORDER BY d.arrived, d.id, l.serial;

-- name: month_bolts
-- in:   $1 lot text
-- out:  month_bolt
SELECT b.id, b.number, b.metres, b.kg, b.width_cm, b.mass_gm2, b.derived,
       COALESCE((SELECT n.standing FROM bolt_standing_now n WHERE n.bolt = b.id), '') AS standing, w.kg AS weight_kg
  FROM bolt_now b LEFT JOIN bolt_weight w ON w.bolt = b.id
 WHERE b.lot = $1
 ORDER BY b.id;

-- The kilograms of a lot by how its bolts stand: of those whose length is not known, and of all that have some. Most lots have none.
-- name: month_weight
-- in:   $1 lot text
-- out:  month_weight
SELECT COALESCE(x.standing, l.standing) AS standing, SUM(CASE WHEN b.metres IS NULL THEN b.kg ELSE 0.0 END) AS unmeasured,
       COALESCE(SUM(COALESCE(b.kg, w.kg)), 0.0) AS total
  FROM lot_now l JOIN bolt_now b ON b.lot = l.id
  LEFT JOIN bolt_weight w ON w.bolt = b.id
  LEFT JOIN bolt_standing_now x ON x.bolt = b.id
 WHERE l.id = $1
   AND (EXISTS (SELECT 1 FROM lot_mass m WHERE m.lot = $1) OR EXISTS (SELECT 1 FROM lot_weight m WHERE m.lot = $1))
 GROUP BY COALESCE(x.standing, l.standing);

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
       (SELECT COUNT(*) FROM standing_now t WHERE t.settled_at >= $1 AND t.settled_at < $2
           AND NOT (t.standing = 'held'
                    AND (EXISTS (SELECT 1 FROM verdict_now v WHERE v.lot = t.lot AND v.entry = t.entry)
                      OR EXISTS (SELECT 1 FROM dispute_now d WHERE d.lot = t.lot AND d.entry = t.entry)))) AS settled,
       (SELECT COUNT(*) FROM standing_now t WHERE t.settled_at >= $1 AND t.settled_at < $2
           AND t.standing = 'held'
           AND (EXISTS (SELECT 1 FROM verdict_now v WHERE v.lot = t.lot AND v.entry = t.entry)
             OR EXISTS (SELECT 1 FROM dispute_now d WHERE d.lot = t.lot AND d.entry = t.entry))) AS holds,
       (SELECT COUNT(*) FROM bolt_standing_now t WHERE t.settled_at >= $1 AND t.settled_at < $2) AS settled_bolts,
       (SELECT COUNT(*) FROM analysis_now a WHERE a.analysed_on >= $1 AND a.analysed_on < $2) AS analyses;

-- The day on which the first delivery arrived; NULL where none did.
-- name: month_first
-- out:  day text or NULL
SELECT MIN(d.arrived) AS day FROM delivery_now d;

-- What laboratories were given, and when they answered. First joint samples of which one has pieces: the day they were dealt out, and that
-- of the first analysis recorded after it that is no answer to what went to another laboratory. Then what was sent without one. Then every
-- other analysis, from the day its sample was taken: that of the last swatch of its lot that was cut up to the day of the analysis; where
-- none was, its sample came from elsewhere, and the day is not known.
-- name: month_sent
-- out:  month_sent
SELECT substr(j.dealt_at, 1, 10) AS sent,
       (SELECT MIN(a.analysed_on) FROM analysis_now a WHERE a.lot = j.lot AND a.entry > j.entry
           AND NOT EXISTS (SELECT 1 FROM sending_answer x WHERE x.analysis = a.id AND a.laboratory <> ''
                              AND x.laboratory <> j.laboratory)) AS answered
  FROM joint_sample j JOIN lot_now l ON l.id = j.lot
 WHERE EXISTS (SELECT 1 FROM joint_piece i WHERE i.sample = j.id AND i.holder = 'laboratory')
UNION ALL
SELECT n.sent_on AS sent, (SELECT MIN(x.analysed_on) FROM sending_answer x WHERE x.sending = n.id) AS answered
  FROM sending_now n JOIN lot_now l ON l.id = n.lot
UNION ALL
SELECT (SELECT MAX(substr(w.cut_at, 1, 10)) FROM swatch_now w
         WHERE w.lot = a.lot AND substr(w.cut_at, 1, 10) <= a.analysed_on) AS sent,
       a.analysed_on AS answered
  FROM analysis_now a JOIN lot_now l ON l.id = a.lot
 WHERE EXISTS (SELECT 1 FROM swatch_now w WHERE w.lot = a.lot AND substr(w.cut_at, 1, 10) <= a.analysed_on)
   AND NOT EXISTS (SELECT 1 FROM joint_sample j JOIN joint_piece i ON i.sample = j.id AND i.holder = 'laboratory'
                    WHERE j.lot = a.lot AND j.entry < a.entry)
   AND NOT EXISTS (SELECT 1 FROM sending_answer x WHERE x.analysis = a.id)
 ORDER BY 1;
