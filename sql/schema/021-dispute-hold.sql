-- A lot that lost its own hold while a dispute about it was open stays held for that dispute: it goes where the dispute never was one.

DROP VIEW standing_gone;
CREATE VIEW standing_gone AS
SELECT t.id FROM standing t
 WHERE t.standing = 'held'
   AND (EXISTS (SELECT 1 FROM verdict_void g WHERE g.lot = t.lot AND g.entry = t.entry AND g.verdict = 'contradicts')
     OR EXISTS (SELECT 1 FROM dispute d JOIN dispute_step y ON y.dispute = d.id AND y.step = 'opened'
                  JOIN void_span s ON s.subject = y.id AND s.until IS NULL
                 WHERE d.lot = t.lot AND d.entry = t.entry)
     OR (t.why = 'a dispute about it is open'
         AND EXISTS (SELECT 1 FROM dispute d JOIN dispute_step y ON y.dispute = d.id AND y.step = 'opened'
                       JOIN void_span s ON s.subject = y.id AND s.until IS NULL
                      WHERE d.lot = t.lot AND d.entry < t.entry AND s.since > t.entry)));
