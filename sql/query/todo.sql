-- What is left to do, a statement for each kind: read in one pass each, however large the book is.

-- row:  todo_row (tenterbook/todo.h): lot text, supplier text, what text, part text, since text, who text, pile text,
--       detail text, until text, done whole, pieces whole, among whole

-- name: todo_held
-- out:  todo_row
SELECT l.ref AS lot, l.supplier_name AS supplier, t.why AS what, '' AS part, t.settled_at AS since, p.name AS who,
       CASE WHEN l.analyses > 0 THEN 'analysed' ELSE '' END AS pile,
       COALESCE(v.detail, '') AS detail, '' AS until, z.released AS done, l.bolts_tested AS pieces, l.bolts AS among
  FROM lot_now l
  JOIN lot_singles z ON z.lot = l.id
  JOIN standing_now t
    ON t.id = (SELECT x.id FROM standing_now x WHERE x.lot = l.id ORDER BY x.entry DESC, x.id DESC LIMIT 1)
  JOIN person p ON p.id = t.settled_by
  LEFT JOIN verdict_now v ON v.id = l.judged
 WHERE l.standing = 'held'
   AND z.released + z.returned < l.bolts
 ORDER BY t.settled_at, l.ref;

-- What laboratories answered and nobody decided of since, or of goods that were let go before.
-- name: todo_decide
-- out:  todo_row
SELECT l.ref AS lot, l.supplier_name AS supplier, '' AS what, '' AS part, a.recorded_at AS since, p.name AS who, 'analysed' AS pile,
       '' AS detail, '' AS until, 0 AS done, l.bolts_tested AS pieces, l.bolts AS among
  FROM lot_now l
  JOIN analysis_now a
    ON a.id = (SELECT x.id FROM analysis_now x WHERE x.lot = l.id ORDER BY x.entry DESC, x.id DESC LIMIT 1)
  JOIN person p ON p.id = a.recorded_by
  LEFT JOIN standing_now t
    ON t.id = (SELECT x.id FROM standing_now x WHERE x.lot = l.id ORDER BY x.entry DESC, x.id DESC LIMIT 1)
 WHERE l.standing = 'waiting' OR (l.standing IN ('released', 'relabelled') AND a.entry > t.entry)
 ORDER BY a.recorded_at, l.ref;

-- Lots that somebody decided of, where something that the decision could rest on was void only after it: the verdict of then may
-- not be that of now. One lot, or all of them. Bolts that were decided of by themselves are told together: done counts them.
-- name: todo_ground
-- in:   $1 lot text or NULL (reference)
-- out:  todo_row
-- find: ground_gone
SELECT l.ref AS lot, l.supplier_name AS supplier, t.standing AS what, '' AS part, j.at AS since, j.person AS who, '' AS pile,
       t.settled_at AS detail, '' AS until, 0 AS done, l.bolts_tested AS pieces, l.bolts AS among
  FROM lot_now l
  JOIN standing_now t
    ON t.id = (SELECT x.id FROM standing_now x WHERE x.lot = l.id ORDER BY x.entry DESC, x.id DESC LIMIT 1)
  JOIN journal j
    ON j.number = (SELECT MAX(e.since) FROM ground_void e WHERE e.lot = l.id AND e.recorded <= t.entry AND e.since > t.entry)
 WHERE (CAST($1 AS TEXT) IS NULL OR l.ref = CAST($1 AS TEXT)) AND t.standing IN ('released', 'relabelled', 'returned')
UNION ALL
SELECT l.ref AS lot, l.supplier_name AS supplier, s.standing AS what, '' AS part, j.at AS since, j.person AS who, '' AS pile,
       MAX(s.settled_at) AS detail, '' AS until, COUNT(*) AS done, l.bolts_tested AS pieces, l.bolts AS among
  FROM bolt_standing_now s
  JOIN lot_now l ON l.id = s.lot
  JOIN journal j
    ON j.number = (SELECT MAX(e.since) FROM ground_void e WHERE e.lot = s.lot AND e.recorded <= s.entry AND e.since > s.entry)
 WHERE (CAST($1 AS TEXT) IS NULL OR l.ref = CAST($1 AS TEXT)) AND s.standing IN ('released', 'returned')
 GROUP BY l.ref, l.supplier_name, s.standing, j.at, j.person, l.bolts_tested, l.bolts
 ORDER BY since, lot;

-- Bolts that are held by themselves: the lot of them is not.
-- name: todo_held_bolts
-- out:  todo_row
SELECT l.ref AS lot, l.supplier_name AS supplier, s.why AS what, '' AS part, s.settled_at AS since, p.name AS who, '' AS pile,
       b.number AS detail, '' AS until, 0 AS done, 1 AS pieces, l.bolts AS among
  FROM bolt_standing_now s JOIN lot_now l ON l.id = s.lot JOIN bolt_now b ON b.id = s.bolt JOIN person p ON p.id = s.settled_by
 WHERE s.standing = 'held'
 ORDER BY s.settled_at, l.ref, b.id;

-- name: todo_undecided
-- out:  todo_row
SELECT l.ref AS lot, l.supplier_name AS supplier, CASE WHEN l.clear = 1 THEN '' ELSE l.declared END AS what, '' AS part,
       v.judged_at AS since, p.name AS who, CASE WHEN l.analyses > 0 THEN 'analysed' ELSE '' END AS pile, v.detail,
       '' AS until, 0 AS done, l.bolts_tested AS pieces, l.bolts AS among
  FROM lot_now l
  JOIN verdict_now v ON v.id = l.judged
  JOIN person p ON p.id = v.judged_by
 WHERE l.verdict = 'undecided' AND l.standing = 'waiting'
 ORDER BY v.judged_at, l.ref;

-- Words that nobody can judge by: the lot waits for what the supplier answers. What was burned all the same is told as undecided.
-- name: todo_words
-- out:  todo_row
SELECT l.ref AS lot, l.supplier_name AS supplier, l.declared AS what, '' AS part, j.at AS since, j.person AS who,
       '' AS pile, '' AS detail, '' AS until, 0 AS done, l.bolts_tested AS pieces, l.bolts AS among
  FROM lot_now l JOIN declaration c ON c.id = l.declaration JOIN journal j ON j.number = c.entry
 WHERE l.clear = 0 AND (l.standing = 'held' OR (l.standing = 'waiting' AND l.verdict <> 'undecided'))
 ORDER BY j.at, l.ref;

-- Lots that the bench judged, or a laboratory analysed, and about which nobody decided.
-- name: todo_unsettled
-- out:  todo_row
SELECT l.ref AS lot, l.supplier_name AS supplier, l.verdict AS what, '' AS part,
       COALESCE(v.judged_at, (SELECT MAX(a.recorded_at) FROM analysis_now a WHERE a.lot = l.id)) AS since,
       COALESCE(p.name, (SELECT MAX(x.name) FROM analysis_now a JOIN person x ON x.id = a.recorded_by WHERE a.lot = l.id)) AS who,
       CASE WHEN l.analyses > 0 THEN 'analysed' ELSE '' END AS pile, '' AS detail, '' AS until, 0 AS done, l.bolts_tested AS pieces, l.bolts AS among
  FROM lot_now l
  LEFT JOIN verdict_now v ON v.id = l.judged
  LEFT JOIN person p ON p.id = v.judged_by
 WHERE l.standing = 'waiting' AND l.clear = 1
   AND (l.verdict IN ('fits', 'contradicts')
        OR (l.verdict = '' AND EXISTS (SELECT 1 FROM analysis_now a WHERE a.lot = l.id)))
 ORDER BY since, l.ref;

-- Lots with which nothing was begun.
-- name: todo_undrawn
-- out:  todo_row
SELECT l.ref AS lot, l.supplier_name AS supplier, '' AS what, '' AS part, d.received_at AS since, p.name AS who, '' AS pile,
       l.declared AS detail, '' AS until, 0 AS done, l.bolts - z.singles AS pieces, l.bolts - z.singles AS among
  FROM lot_now l JOIN lot_singles z ON z.lot = l.id JOIN delivery_now d ON d.id = l.delivery JOIN person p ON p.id = d.received_by
 WHERE l.standing = 'waiting' AND l.clear = 1 AND l.verdict = '' AND z.singles < l.bolts
   AND l.id NOT IN (SELECT o.lot FROM draw_bolt y JOIN bolt_now o ON o.id = y.bolt)
   AND NOT EXISTS (SELECT 1 FROM swatch_now w WHERE w.lot = l.id)
   AND NOT EXISTS (SELECT 1 FROM analysis_now a WHERE a.lot = l.id)
 ORDER BY d.received_at, l.ref;

-- Pieces of a joint sample are kept and not burned, and what went to a laboratory is not here. What was cut before its lot was settled needs no burn any more; what was cut
-- after that was wanted all the same. The same of a bolt that was decided of by itself.
-- name: todo_unburnt
-- out:  todo_row
SELECT l.ref AS lot, l.supplier_name AS supplier, w.tag AS what, w.part, w.cut_at AS since, p.name AS who, '' AS pile,
       COALESCE(b.number, '') AS detail, '' AS until, 0 AS done, 1 AS pieces, 1 AS among
  FROM swatch_now w JOIN lot_now l ON l.id = w.lot JOIN person p ON p.id = w.cut_by LEFT JOIN bolt_now b ON b.id = w.bolt
 WHERE (l.standing IN ('waiting', 'held') OR w.entry > (SELECT MAX(t.entry) FROM standing_now t WHERE t.lot = l.id))
   AND NOT EXISTS (SELECT 1 FROM bolt_standing_now s WHERE s.bolt = w.bolt AND s.standing <> 'held' AND s.entry > w.entry)
   AND NOT EXISTS (SELECT 1 FROM burn_now n WHERE n.swatch = w.id)
   AND NOT EXISTS (SELECT 1 FROM bench_test_now n WHERE n.swatch = w.id)
   AND NOT EXISTS (SELECT 1 FROM joint_piece i WHERE i.swatch = w.id)
   AND NOT EXISTS (SELECT 1 FROM sending_piece i JOIN sending_now n ON n.id = i.sending WHERE i.swatch = w.id)
 ORDER BY w.cut_at, w.tag;

-- The bolts of the last draw of each lot, those that were cut among them; of a settled lot, where it was drawn after that. Not
-- those that were decided of by themselves, or went back.
-- name: todo_drawn
-- out:  todo_row
SELECT l.ref AS lot, l.supplier_name AS supplier, b.number AS what, '' AS part, d.drawn_at AS since, p.name AS who,
       d.id AS pile, '' AS detail, '' AS until,
       CASE WHEN EXISTS (SELECT 1 FROM swatch_now w WHERE w.bolt = b.id) THEN 1 ELSE 0 END AS done, 1 AS pieces, 1 AS among
  FROM (SELECT o.lot, MAX(e.entry) AS entry
          FROM draw e JOIN draw_bolt y ON y.draw = e.id JOIN bolt_now o ON o.id = y.bolt GROUP BY o.lot) z
  JOIN lot_now l ON l.id = z.lot
  JOIN draw d ON d.entry = z.entry
  JOIN draw_bolt x ON x.draw = d.id
  JOIN bolt_now b ON b.id = x.bolt AND b.lot = z.lot
  JOIN person p ON p.id = d.drawn_by
 WHERE (l.standing IN ('waiting', 'held')
        OR (l.standing <> 'returned' AND d.entry > (SELECT MAX(t.entry) FROM standing_now t WHERE t.lot = l.id)))
   AND NOT EXISTS (SELECT 1 FROM bolt_standing_now s WHERE s.bolt = b.id)
 ORDER BY d.drawn_at, l.ref, d.id, b.id;

-- Joint samples of which a laboratory has pieces, and no analysis of the lot came since; one that answers what went to another
-- laboratory is none of it. Then what was sent without a joint sample (among 0), until a report answers it.
-- name: todo_laboratory
-- out:  todo_row
SELECT l.ref AS lot, l.supplier_name AS supplier, j.laboratory AS what, '' AS part, j.dealt_at AS since, p.name AS who,
       j.id AS pile, '' AS detail, '' AS until, 0 AS done,
       (SELECT COUNT(*) FROM joint_piece i WHERE i.sample = j.id AND i.holder = 'laboratory') AS pieces, j.serial AS among
  FROM joint_sample j JOIN lot_now l ON l.id = j.lot JOIN person p ON p.id = j.dealt_by
 WHERE EXISTS (SELECT 1 FROM joint_piece i WHERE i.sample = j.id AND i.holder = 'laboratory')
   AND NOT EXISTS (SELECT 1 FROM analysis_now a WHERE a.lot = j.lot AND a.entry > j.entry
                    AND NOT EXISTS (SELECT 1 FROM sending_answer x WHERE x.analysis = a.id AND a.laboratory <> ''
                                       AND x.laboratory <> j.laboratory))
   AND (l.standing IN ('waiting', 'held') OR EXISTS (SELECT 1 FROM dispute_open o WHERE o.lot = l.id))
UNION ALL
SELECT l.ref AS lot, l.supplier_name AS supplier, n.laboratory AS what, '' AS part, n.sent_on AS since, p.name AS who,
       n.id AS pile, '' AS detail, '' AS until, 0 AS done,
       (SELECT COUNT(*) FROM sending_piece i JOIN swatch_now w ON w.id = i.swatch WHERE i.sending = n.id) AS pieces, 0 AS among
  FROM sending_now n JOIN lot_now l ON l.id = n.lot JOIN person p ON p.id = n.recorded_by
 WHERE NOT EXISTS (SELECT 1 FROM sending_answer x WHERE x.sending = n.id)
 ORDER BY since, lot, among, pile;

-- The own pieces of joint samples, while the lot is open, and after that until the day its file is kept.
-- name: todo_joint
-- in:   $1 today text
-- out:  todo_row
SELECT k.lot, k.supplier, k.what, k.part, k.since, k.who, k.pile, k.detail, k.until, 0 AS done, 1 AS pieces, k.among
  FROM (SELECT l.ref AS lot, l.supplier_name AS supplier, w.tag AS what, w.part, j.dealt_at AS since, p.name AS who,
               j.id AS pile, w.kept AS detail, j.serial AS among, w.serial AS swatch,
               CASE WHEN l.standing IN ('waiting', 'held')
                      OR EXISTS (SELECT 1 FROM dispute_open o WHERE o.lot = l.id) THEN 1 ELSE 0 END AS waits,
               COALESCE((SELECT MAX(s.keep_until) FROM dispute_step_now s JOIN dispute_now d ON d.id = s.dispute
                          WHERE d.lot = j.lot AND s.step = 'closed'), '') AS until
          FROM joint_sample j JOIN joint_piece i ON i.sample = j.id JOIN swatch_now w ON w.id = i.swatch
          JOIN lot_now l ON l.id = j.lot JOIN person p ON p.id = j.dealt_by
         WHERE i.holder = 'own') k
 WHERE k.waits = 1 OR k.until >= $1
 ORDER BY k.since, k.lot, k.among, k.swatch;
