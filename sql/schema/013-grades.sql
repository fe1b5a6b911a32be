-- How strong a verdict is, beside it: lists say it without reading its details. Verdicts of older programs have no row, and are
-- read from their details.

CREATE TABLE verdict_grade (
  id       TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 26),
  lot      TEXT NOT NULL REFERENCES lot (id),
  verdict  TEXT NOT NULL REFERENCES verdict (id),
  grade    TEXT NOT NULL CHECK (grade IN ('fits', 'undecided', 'speaks against', 'contradicts')),
  lowest   DOUBLE PRECISION NOT NULL,    -- natural logarithms of the limits its ratio is told within
  highest  DOUBLE PRECISION NOT NULL,
  one_look BIGINT NOT NULL CHECK (one_look IN (0, 1)), -- 1: one look alone says so
  bolts    TEXT NOT NULL,                -- numbers of the bolts that contradict judged alone, one a line
  entry    BIGINT NOT NULL REFERENCES journal (number) DEFERRABLE INITIALLY DEFERRED
);
CREATE INDEX verdict_grade_by_verdict ON verdict_grade (verdict);
CREATE INDEX verdict_grade_by_lot ON verdict_grade (lot);

DROP VIEW lot_now;
DROP VIEW lot_whole;

-- A lot as it stands, void or not: its delivery, supplier, the declaration, verdict and standing that count now.
CREATE VIEW lot_whole AS
SELECT l.id, l.ref, l.delivery, l.serial, l.article, l.colour, l.dye_lot, l.origin, l.unit_price, l.currency,
       l.bolts, l.metres, l.kg, l.derived, l.unknown, d.ref AS delivery_ref, d.arrived, d.supplier,
       s.name AS supplier_name,
       COALESCE(c.text, '') AS declared, COALESCE(c.reading, '') AS reading, COALESCE(c.clear, 0) AS clear,
       COALESCE(c.doubts, '') AS doubts, c.id AS declaration,
       CASE WHEN c.origin = 'relabel' THEN 1 ELSE 0 END AS own_words, COALESCE(t.standing, 'waiting') AS standing,
       COALESCE(v.verdict, '') AS verdict, NULLIF(v.log_ratio, 0.0) AS log_ratio, v.id AS judged, v.judged_at,
       COALESCE(g.grade, '') AS grade, g.lowest, g.highest, COALESCE(g.one_look, 0) AS one_look,
       COALESCE(g.bolts, '') AS against,
       (SELECT COUNT(DISTINCT w.bolt) FROM swatch w JOIN burn_now b ON b.swatch = w.id WHERE w.lot = l.id)
         AS bolts_burnt,
       (SELECT COUNT(*) FROM swatch w JOIN burn_now b ON b.swatch = w.id WHERE w.lot = l.id) AS burns,
       (SELECT COUNT(DISTINCT w.bolt) FROM swatch w
         WHERE w.lot = l.id
           AND (EXISTS (SELECT 1 FROM burn_now b WHERE b.swatch = w.id)
             OR EXISTS (SELECT 1 FROM bench_test_now x WHERE x.swatch = w.id))) AS bolts_tested,
       (SELECT COUNT(*) FROM swatch w JOIN bench_test_now x ON x.swatch = w.id WHERE w.lot = l.id) AS tests,
       (SELECT COUNT(*) FROM analysis_now a WHERE a.lot = l.id) AS analyses,
       l.voided
  FROM lot_goods l
  JOIN delivery_amended d ON d.id = l.delivery
  JOIN supplier s ON s.id = d.supplier
  LEFT JOIN declaration c
    ON c.id = (SELECT x.id FROM declaration x WHERE x.lot = l.id ORDER BY x.entry DESC, x.id DESC LIMIT 1)
  LEFT JOIN standing t
    ON t.id = (SELECT x.id FROM standing_now x WHERE x.lot = l.id ORDER BY x.entry DESC, x.id DESC LIMIT 1)
  LEFT JOIN verdict v
    ON v.id = (SELECT x.id FROM verdict_now x WHERE x.lot = l.id ORDER BY x.entry DESC, x.id DESC LIMIT 1)
  LEFT JOIN verdict_grade g ON g.verdict = v.id;

CREATE VIEW lot_now AS
SELECT l.* FROM lot_whole l WHERE l.voided = 0;

-- What the supplier said of a lot, whatever a label said later, and the verdict on those words that counts now.
CREATE VIEW lot_said AS
SELECT l.id AS lot, c.id AS declaration, COALESCE(c.text, '') AS said, COALESCE(c.clear, 0) AS clear,
       v.id AS judged, COALESCE(v.verdict, '') AS verdict, NULLIF(v.log_ratio, 0.0) AS log_ratio, v.judged_at,
       COALESCE(v.detail, '') AS detail, COALESCE(g.grade, '') AS grade, g.lowest, g.highest,
       COALESCE(g.one_look, 0) AS one_look, COALESCE(g.bolts, '') AS against,
       (SELECT COUNT(*) FROM analysis_now a WHERE a.lot = l.id) AS analyses,
       (SELECT COUNT(*) FROM swatch w JOIN bench_test_now x ON x.swatch = w.id WHERE w.lot = l.id) AS tests
  FROM lot l
  LEFT JOIN declaration c
    ON c.id = (SELECT x.id FROM declaration x WHERE x.lot = l.id AND x.origin <> 'relabel'
                ORDER BY x.entry DESC, x.id DESC LIMIT 1)
  LEFT JOIN verdict v
    ON v.id = (SELECT x.id FROM verdict_now x
                WHERE x.lot = l.id
                  AND NOT EXISTS (SELECT 1 FROM declaration r
                                   WHERE r.lot = l.id AND r.origin = 'relabel' AND r.entry <= x.entry
                                     AND NOT EXISTS (SELECT 1 FROM declaration n
                                                      WHERE n.lot = l.id AND n.origin <> 'relabel'
                                                        AND n.entry > r.entry AND n.entry <= x.entry))
                ORDER BY x.entry DESC, x.id DESC LIMIT 1)
  LEFT JOIN verdict_grade g ON g.verdict = v.id;
