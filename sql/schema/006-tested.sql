-- Tests without a flame count as burns do, and other words for a lot may have their reason.

-- Why words count in place of others that could be read, or although no fibre can be read in them.
CREATE TABLE declaration_why (
  id       TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 26),
  declaration TEXT NOT NULL UNIQUE REFERENCES declaration (id),
  why      TEXT NOT NULL,
  entry    BIGINT NOT NULL REFERENCES journal (number) DEFERRABLE INITIALLY DEFERRED
);

-- As it was, and how many bolts were burnt or tested. A ratio of exactly 0 was stored where nothing could be weighed.
DROP VIEW lot_now;
CREATE VIEW lot_now AS
SELECT l.id, l.ref, l.delivery, l.serial, l.article, l.colour, l.dye_lot, l.origin, l.unit_price, l.currency,
       l.bolts, l.metres, d.ref AS delivery_ref, d.arrived, d.supplier, s.name AS supplier_name,
       COALESCE(c.text, '') AS declared, COALESCE(c.reading, '') AS reading, COALESCE(c.clear, 0) AS clear,
       COALESCE(c.doubts, '') AS doubts, c.id AS declaration, COALESCE(t.standing, 'waiting') AS standing,
       COALESCE(v.verdict, '') AS verdict, NULLIF(v.log_ratio, 0.0) AS log_ratio,
       (SELECT COUNT(DISTINCT w.bolt) FROM swatch w JOIN burn_now b ON b.swatch = w.id WHERE w.lot = l.id)
         AS bolts_burnt,
       (SELECT COUNT(*) FROM swatch w JOIN burn_now b ON b.swatch = w.id WHERE w.lot = l.id) AS burns,
       (SELECT COUNT(DISTINCT w.bolt) FROM swatch w
         WHERE w.lot = l.id
           AND (EXISTS (SELECT 1 FROM burn_now b WHERE b.swatch = w.id)
             OR EXISTS (SELECT 1 FROM bench_test_now x WHERE x.swatch = w.id))) AS bolts_tested,
       (SELECT COUNT(*) FROM swatch w JOIN bench_test_now x ON x.swatch = w.id WHERE w.lot = l.id) AS tests
  FROM lot l
  JOIN delivery d ON d.id = l.delivery
  JOIN supplier s ON s.id = d.supplier
  LEFT JOIN declaration c
    ON c.id = (SELECT x.id FROM declaration x WHERE x.lot = l.id ORDER BY x.entry DESC, x.id DESC LIMIT 1)
  LEFT JOIN standing t
    ON t.id = (SELECT x.id FROM standing x WHERE x.lot = l.id ORDER BY x.entry DESC, x.id DESC LIMIT 1)
  LEFT JOIN verdict v
    ON v.id = (SELECT x.id FROM verdict x WHERE x.lot = l.id ORDER BY x.entry DESC, x.id DESC LIMIT 1);
