-- What a bolt weighs whose length was measured: knitted goods are listed by both, and invoiced by the kilogram. Its length is what counts
-- in sums of metres; bolt_mass holds goods that were counted in kilograms alone.

CREATE TABLE bolt_weight (
  id       TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 26),
  bolt     TEXT NOT NULL REFERENCES bolt (id),
  kg       DOUBLE PRECISION NOT NULL CHECK (kg > 0), -- net, as the list has it
  entry    BIGINT NOT NULL REFERENCES journal (number) DEFERRABLE INITIALLY DEFERRED
);
CREATE INDEX bolt_weight_by_bolt ON bolt_weight (bolt);

-- The same of a lot, of so many of its bolts. One of which no bolt was weighed has no row.
CREATE TABLE lot_weight (
  id       TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 26),
  lot      TEXT NOT NULL REFERENCES lot (id),
  kg       DOUBLE PRECISION NOT NULL CHECK (kg > 0),
  bolts    BIGINT NOT NULL CHECK (bolts > 0),
  entry    BIGINT NOT NULL REFERENCES journal (number) DEFERRABLE INITIALLY DEFERRED
);
CREATE INDEX lot_weight_by_lot ON lot_weight (lot);

-- Of the bolts that count. Where a bolt is void the others are added up anew.
CREATE VIEW lot_weighed AS
SELECT k.lot,
       CASE WHEN EXISTS (SELECT 1 FROM void_span s WHERE s.lot = k.lot AND s.about = 'bolt' AND s.until IS NULL)
            THEN (SELECT SUM(w.kg) FROM bolt b JOIN bolt_weight w ON w.bolt = b.id
                   WHERE b.lot = k.lot
                     AND NOT EXISTS (SELECT 1 FROM void_span s WHERE s.subject = b.id AND s.until IS NULL))
            ELSE k.kg END AS weight_kg,
       CASE WHEN EXISTS (SELECT 1 FROM void_span s WHERE s.lot = k.lot AND s.about = 'bolt' AND s.until IS NULL)
            THEN (SELECT COUNT(*) FROM bolt b JOIN bolt_weight w ON w.bolt = b.id
                   WHERE b.lot = k.lot
                     AND NOT EXISTS (SELECT 1 FROM void_span s WHERE s.subject = b.id AND s.until IS NULL))
            ELSE k.bolts END AS weighed
  FROM lot_weight k;
