-- Goods that were counted in kilograms. Their length is computed from width and mass per area, or nobody knows it.

CREATE TABLE bolt_as_metres AS SELECT id, lot, number, metres, width_cm, mass_gm2, said, entry FROM bolt;
DROP TABLE bolt;
CREATE TABLE bolt (
  id       TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 26),
  lot      TEXT NOT NULL REFERENCES lot (id),
  number   TEXT NOT NULL,                -- as on the ticket, or one of the program's own (T1)
  metres   DOUBLE PRECISION CHECK (metres > 0), -- NULL: counted in kilograms, and its length is not known
  width_cm DOUBLE PRECISION,             -- NULL not given
  mass_gm2 DOUBLE PRECISION,             -- g/m2, NULL not given
  said     TEXT NOT NULL,                -- the length as written where it was not plain metres, '' else
  entry    BIGINT NOT NULL REFERENCES journal (number) DEFERRABLE INITIALLY DEFERRED
);
INSERT INTO bolt (id, lot, number, metres, width_cm, mass_gm2, said, entry)
SELECT id, lot, number, metres, width_cm, mass_gm2, said, entry FROM bolt_as_metres;
DROP TABLE bolt_as_metres;
CREATE INDEX bolt_by_lot ON bolt (lot, id);
CREATE INDEX bolt_by_number ON bolt (number);

CREATE TABLE bolt_mass (
  id       TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 26),
  bolt     TEXT NOT NULL REFERENCES bolt (id),
  kg       DOUBLE PRECISION NOT NULL CHECK (kg > 0),
  derived  BIGINT NOT NULL CHECK (derived IN (0, 1)), -- 1: its metres are computed from kilograms, width and mass per area
  entry    BIGINT NOT NULL REFERENCES journal (number) DEFERRABLE INITIALLY DEFERRED
);
CREATE INDEX bolt_mass_by_bolt ON bolt_mass (bolt);

-- The same of a lot: lot.metres is the length of those bolts whose length is known, 0 where none is.
CREATE TABLE lot_mass (
  id       TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 26),
  lot      TEXT NOT NULL REFERENCES lot (id),
  kg       DOUBLE PRECISION NOT NULL CHECK (kg > 0), -- of the bolts that were counted in kilograms
  derived  BIGINT NOT NULL,              -- bolts whose length is computed
  unknown  BIGINT NOT NULL,              -- bolts whose length is not known
  entry    BIGINT NOT NULL REFERENCES journal (number) DEFERRABLE INITIALLY DEFERRED
);
CREATE INDEX lot_mass_by_lot ON lot_mass (lot);

DROP VIEW lot_now;
DROP VIEW lot_whole;
DROP VIEW lot_outcome;
DROP VIEW bolt_use_now;
DROP VIEW lot_goods;
DROP VIEW bolt_now;

CREATE VIEW bolt_now AS
SELECT b.id, b.lot, b.number, b.metres * u.factor AS metres, b.width_cm, b.mass_gm2, b.said, m.kg,
       COALESCE(m.derived, 0) AS derived, b.entry
  FROM bolt b JOIN lot_unit u ON u.lot = b.lot LEFT JOIN bolt_mass m ON m.bolt = b.id
 WHERE NOT EXISTS (SELECT 1 FROM void_span s WHERE s.subject = b.id AND s.until IS NULL)
   AND NOT EXISTS (SELECT 1 FROM void_span s WHERE s.subject = b.lot AND s.until IS NULL);

-- A lot with the goods in it that count, void or not. Where a bolt is void the others are added up anew.
CREATE VIEW lot_goods AS
SELECT l.id, l.ref, l.delivery, l.serial, l.article, l.colour, l.dye_lot, l.origin, l.unit_price / u.factor AS unit_price,
       l.currency,
       l.bolts - (SELECT COUNT(*) FROM void_span s WHERE s.lot = l.id AND s.about = 'bolt' AND s.until IS NULL) AS bolts,
       CASE WHEN EXISTS (SELECT 1 FROM void_span s WHERE s.lot = l.id AND s.about = 'bolt' AND s.until IS NULL)
            THEN (SELECT SUM(b.metres) FROM bolt b
                   WHERE b.lot = l.id
                     AND NOT EXISTS (SELECT 1 FROM void_span s WHERE s.subject = b.id AND s.until IS NULL))
            ELSE NULLIF(l.metres, 0.0) END * u.factor AS metres,
       CASE WHEN k.kg IS NULL THEN NULL
            WHEN EXISTS (SELECT 1 FROM void_span s WHERE s.lot = l.id AND s.about = 'bolt' AND s.until IS NULL)
            THEN (SELECT SUM(m.kg) FROM bolt b JOIN bolt_mass m ON m.bolt = b.id
                   WHERE b.lot = l.id
                     AND NOT EXISTS (SELECT 1 FROM void_span s WHERE s.subject = b.id AND s.until IS NULL))
            ELSE k.kg END AS kg,
       CASE WHEN k.kg IS NULL THEN 0
            WHEN EXISTS (SELECT 1 FROM void_span s WHERE s.lot = l.id AND s.about = 'bolt' AND s.until IS NULL)
            THEN (SELECT COUNT(*) FROM bolt b JOIN bolt_mass m ON m.bolt = b.id
                   WHERE b.lot = l.id AND m.derived = 1
                     AND NOT EXISTS (SELECT 1 FROM void_span s WHERE s.subject = b.id AND s.until IS NULL))
            ELSE k.derived END AS derived,
       CASE WHEN k.kg IS NULL THEN 0
            WHEN EXISTS (SELECT 1 FROM void_span s WHERE s.lot = l.id AND s.about = 'bolt' AND s.until IS NULL)
            THEN (SELECT COUNT(*) FROM bolt b
                   WHERE b.lot = l.id AND b.metres IS NULL
                     AND NOT EXISTS (SELECT 1 FROM void_span s WHERE s.subject = b.id AND s.until IS NULL))
            ELSE k.unknown END AS unknown,
       CASE WHEN EXISTS (SELECT 1 FROM void_span s WHERE s.subject = l.id AND s.until IS NULL) THEN 1 ELSE 0 END AS voided,
       l.entry
  FROM lot l JOIN lot_unit u ON u.lot = l.id LEFT JOIN lot_mass k ON k.lot = l.id;

-- A lot as it stands, void or not: its delivery, supplier, the declaration, verdict and standing that count now.
CREATE VIEW lot_whole AS
SELECT l.id, l.ref, l.delivery, l.serial, l.article, l.colour, l.dye_lot, l.origin, l.unit_price, l.currency,
       l.bolts, l.metres, l.kg, l.derived, l.unknown, d.ref AS delivery_ref, d.arrived, d.supplier,
       s.name AS supplier_name,
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
       (SELECT COUNT(*) FROM swatch w JOIN bench_test_now x ON x.swatch = w.id WHERE w.lot = l.id) AS tests,
       l.voided
  FROM lot_goods l
  JOIN delivery_amended d ON d.id = l.delivery
  JOIN supplier s ON s.id = d.supplier
  LEFT JOIN declaration c
    ON c.id = (SELECT x.id FROM declaration x WHERE x.lot = l.id ORDER BY x.entry DESC, x.id DESC LIMIT 1)
  LEFT JOIN standing t
    ON t.id = (SELECT x.id FROM standing_now x WHERE x.lot = l.id ORDER BY x.entry DESC, x.id DESC LIMIT 1)
  LEFT JOIN verdict v
    ON v.id = (SELECT x.id FROM verdict_now x WHERE x.lot = l.id ORDER BY x.entry DESC, x.id DESC LIMIT 1);

CREATE VIEW lot_now AS
SELECT l.* FROM lot_whole l WHERE l.voided = 0;

-- What became of a lot: wrong when it was returned or relabelled, or when its latest verdict contradicts and nobody
-- released it after; right when it was released, or when its latest verdict fits; open while it is neither.
CREATE VIEW lot_outcome AS
SELECT x.id, x.ref, x.supplier, x.arrived, x.metres, x.unit_price, x.currency, x.bolts,
       CASE WHEN x.standing IN ('returned', 'relabelled') THEN 'wrong'
            WHEN x.standing = 'released' THEN 'right'
            WHEN x.verdict = 'contradicts' THEN 'wrong'
            WHEN x.verdict = 'fits' THEN 'right'
            ELSE 'open' END AS outcome
  FROM (SELECT l.id, l.ref, d.supplier, d.arrived, l.metres, l.unit_price, l.currency, l.bolts,
               (SELECT t.standing FROM standing_now t WHERE t.lot = l.id ORDER BY t.entry DESC, t.id DESC LIMIT 1)
                 AS standing,
               (SELECT v.verdict FROM verdict_now v WHERE v.lot = l.id ORDER BY v.entry DESC, v.id DESC LIMIT 1)
                 AS verdict
          FROM lot_goods l JOIN delivery_amended d ON d.id = l.delivery
         WHERE l.voided = 0) x;

-- Bolts cut into, without what was recorded by mistake.
CREATE VIEW bolt_use_now AS
SELECT u.* FROM bolt_use u JOIN bolt_now b ON b.id = u.bolt
 WHERE u.used = 1 AND NOT EXISTS (SELECT 1 FROM bolt_use r WHERE r.replaces = u.id);
