-- What was recorded by mistake: it stays in the book and counts nowhere. What is not of the cloth is amended.

CREATE TABLE voiding (
  id       TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 26),
  about    TEXT NOT NULL CHECK (about IN ('delivery', 'lot', 'bolt', 'swatch', 'burn', 'bench_test')),
  subject  TEXT NOT NULL,                -- id of a row of that table
  lot      TEXT REFERENCES lot (id),     -- the lot it is of; NULL: a delivery (each of its lots has a row), or known cloth
  why      TEXT NOT NULL,
  instead  TEXT NOT NULL,                -- id of the burn of another swatch that was recorded in its place; '' none was
  voided_at TEXT NOT NULL,
  voided_by TEXT NOT NULL REFERENCES person (id),
  replaces TEXT REFERENCES voiding (id), -- the one it takes back: its subject counts again; NULL: the subject is void
  entry    BIGINT NOT NULL REFERENCES journal (number) DEFERRABLE INITIALLY DEFERRED
);
CREATE INDEX voiding_by_subject ON voiding (subject, entry);
CREATE INDEX voiding_by_lot ON voiding (lot, about);
CREATE INDEX voiding_by_replaced ON voiding (replaces);

-- What of a delivery was written down otherwise than it was. The latest row of a field counts; one row for each of its lots.
CREATE TABLE amendment (
  id       TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 26),
  delivery TEXT NOT NULL REFERENCES delivery (id),
  lot      TEXT NOT NULL REFERENCES lot (id),
  field    TEXT NOT NULL CHECK (field IN ('arrived', 'note', 'order', 'note_day', 'remark', 'supplier', 'unit')),
  old      TEXT NOT NULL,                -- what counted until then
  new      TEXT NOT NULL,                -- unit: yd (the lengths taken for metres were yards), m (those taken for yards were metres), read (as they were read)
  supplier TEXT REFERENCES supplier (id), -- of the field supplier; NULL: another field
  why      TEXT NOT NULL,
  amended_at TEXT NOT NULL,
  amended_by TEXT NOT NULL REFERENCES person (id),
  entry    BIGINT NOT NULL REFERENCES journal (number) DEFERRABLE INITIALLY DEFERRED
);
CREATE INDEX amendment_by_delivery ON amendment (delivery, field, entry, id);
CREATE INDEX amendment_by_lot ON amendment (lot, field, entry, id);

-- Two spellings of one supplier. The latest row of a supplier counts; one that is the same as itself is on its own again.
CREATE TABLE supplier_same (
  id       TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 26),
  supplier TEXT NOT NULL REFERENCES supplier (id),
  same_as  TEXT NOT NULL REFERENCES supplier (id), -- one that is the same as no other
  why      TEXT NOT NULL,
  set_at   TEXT NOT NULL,
  set_by   TEXT NOT NULL REFERENCES person (id),
  entry    BIGINT NOT NULL REFERENCES journal (number) DEFERRABLE INITIALLY DEFERRED
);
CREATE INDEX supplier_same_by_supplier ON supplier_same (supplier, entry, id);
CREATE INDEX supplier_same_by_same ON supplier_same (same_as);

-- From which journal row on something is void, and until which it was; NULL: it still is.
CREATE VIEW void_span AS
SELECT v.id, v.about, v.subject, v.lot, v.entry AS since, (SELECT r.entry FROM voiding r WHERE r.replaces = v.id) AS until
  FROM voiding v WHERE v.replaces IS NULL;

-- When records stop to count. A swatch does with its bolt and its lot; a burn or a test with its swatch, and while a record
-- that is not void corrects it. What counted after journal row N has no row here with since <= N and until behind N or NULL.
CREATE VIEW swatch_end AS
SELECT w.id AS swatch, s.since, s.until FROM swatch w JOIN void_span s ON s.subject IN (w.id, w.bolt, w.lot);

CREATE VIEW burn_void AS
SELECT s.subject AS burn, s.since, s.until FROM void_span s WHERE s.about = 'burn'
UNION ALL
SELECT b.id AS burn, e.since, e.until FROM burn b JOIN swatch_end e ON e.swatch = b.swatch;

CREATE VIEW burn_end AS
SELECT r.replaces AS burn, r.entry AS since, (SELECT s.since FROM void_span s WHERE s.subject = r.id) AS until
  FROM burn r WHERE r.replaces IS NOT NULL
UNION ALL
SELECT e.burn, e.since, e.until FROM burn_void e;

CREATE VIEW bench_test_void AS
SELECT s.subject AS test, s.since, s.until FROM void_span s WHERE s.about = 'bench_test'
UNION ALL
SELECT t.id AS test, e.since, e.until FROM bench_test t JOIN swatch_end e ON e.swatch = t.swatch;

CREATE VIEW bench_test_end AS
SELECT r.replaces AS test, r.entry AS since, (SELECT s.since FROM void_span s WHERE s.subject = r.id) AS until
  FROM bench_test r WHERE r.replaces IS NOT NULL
UNION ALL
SELECT e.test, e.since, e.until FROM bench_test_void e;

-- What of the bench of a lot is void: when it was recorded, and since when it is.
CREATE VIEW bench_void AS
SELECT w.lot, b.entry AS recorded, e.since
  FROM swatch w JOIN burn b ON b.swatch = w.id JOIN burn_void e ON e.burn = b.id WHERE e.until IS NULL
UNION ALL
SELECT w.lot, t.entry AS recorded, e.since
  FROM swatch w JOIN bench_test t ON t.swatch = w.id JOIN bench_test_void e ON e.test = t.id WHERE e.until IS NULL;

-- Verdicts that rest on something that was void only after they were given.
CREATE VIEW verdict_void AS
SELECT v.id, v.lot, v.entry, v.verdict FROM verdict v
 WHERE EXISTS (SELECT 1 FROM voiding x WHERE x.lot = v.lot)
   AND EXISTS (SELECT 1 FROM bench_void e WHERE e.lot = v.lot AND e.recorded <= v.entry AND e.since > v.entry);

DROP VIEW lot_now;
DROP VIEW lot_outcome;
DROP VIEW dispute_open;
DROP VIEW bolt_use_now;
DROP VIEW burn_now;
DROP VIEW bench_test_now;

-- What counts: every list and every figure is made of these (tests/unit/test_counts.c).
CREATE VIEW swatch_now AS
SELECT w.* FROM swatch w WHERE NOT EXISTS (SELECT 1 FROM swatch_end e WHERE e.swatch = w.id AND e.until IS NULL);

CREATE VIEW burn_now AS
SELECT b.* FROM burn b WHERE NOT EXISTS (SELECT 1 FROM burn_end e WHERE e.burn = b.id AND e.until IS NULL);

CREATE VIEW bench_test_now AS
SELECT t.* FROM bench_test t WHERE NOT EXISTS (SELECT 1 FROM bench_test_end e WHERE e.test = t.id AND e.until IS NULL);

CREATE VIEW verdict_now AS
SELECT v.* FROM verdict v
 WHERE NOT EXISTS (SELECT 1 FROM verdict_void g WHERE g.id = v.id)
   AND NOT EXISTS (SELECT 1 FROM void_span s WHERE s.subject = v.lot AND s.until IS NULL);

-- A hold that a verdict made by itself goes with that verdict; what a person decided stays.
CREATE VIEW standing_now AS
SELECT t.* FROM standing t
 WHERE NOT (t.standing = 'held'
            AND EXISTS (SELECT 1 FROM verdict_void g
                         WHERE g.lot = t.lot AND g.entry = t.entry AND g.verdict = 'contradicts'))
   AND NOT EXISTS (SELECT 1 FROM void_span s WHERE s.subject = t.lot AND s.until IS NULL);

-- A supplier, and whom it is the same as: itself mostly.
CREATE VIEW supplier_now AS
SELECT s.id, s.name, s.folded,
       COALESCE((SELECT m.same_as FROM supplier_same m WHERE m.supplier = s.id ORDER BY m.entry DESC, m.id DESC LIMIT 1),
                s.id) AS same_as
  FROM supplier s;

-- A delivery as it was amended, void or not; written_by: the supplier under the name that stands on its papers.
CREATE VIEW delivery_amended AS
SELECT d.id, d.ref, d.site, d.year, d.serial, s.same_as AS supplier, s.id AS written_by,
       COALESCE((SELECT a.new FROM amendment a WHERE a.delivery = d.id AND a.field = 'note'
                  ORDER BY a.entry DESC, a.id DESC LIMIT 1), d.note) AS note,
       COALESCE((SELECT a.new FROM amendment a WHERE a.delivery = d.id AND a.field = 'order'
                  ORDER BY a.entry DESC, a.id DESC LIMIT 1), d.order_no) AS order_no,
       NULLIF(COALESCE((SELECT a.new FROM amendment a WHERE a.delivery = d.id AND a.field = 'note_day'
                         ORDER BY a.entry DESC, a.id DESC LIMIT 1), d.note_day), '') AS note_day,
       COALESCE((SELECT a.new FROM amendment a WHERE a.delivery = d.id AND a.field = 'arrived'
                  ORDER BY a.entry DESC, a.id DESC LIMIT 1), d.arrived) AS arrived,
       d.received_at, d.received_by, d.file_name, d.file_digest,
       COALESCE((SELECT a.new FROM amendment a WHERE a.delivery = d.id AND a.field = 'remark'
                  ORDER BY a.entry DESC, a.id DESC LIMIT 1), d.remark) AS remark,
       d.entry
  FROM delivery d
  JOIN supplier_now s
    ON s.id = COALESCE((SELECT a.supplier FROM amendment a WHERE a.delivery = d.id AND a.field = 'supplier'
                         ORDER BY a.entry DESC, a.id DESC LIMIT 1), d.supplier);

CREATE VIEW delivery_now AS
SELECT d.* FROM delivery_amended d
 WHERE NOT EXISTS (SELECT 1 FROM void_span s WHERE s.subject = d.id AND s.until IS NULL);

-- What the lengths of a lot have to be multiplied by, since they were yards that were taken for metres or the reverse.
CREATE VIEW lot_unit AS
SELECT l.id AS lot,
       COALESCE((SELECT CASE a.new WHEN 'yd' THEN 0.9144 WHEN 'm' THEN 1.0 / 0.9144 ELSE 1.0 END
                   FROM amendment a WHERE a.lot = l.id AND a.field = 'unit'
                  ORDER BY a.entry DESC, a.id DESC LIMIT 1), 1.0) AS factor
  FROM lot l;

CREATE VIEW bolt_now AS
SELECT b.id, b.lot, b.number, b.metres * u.factor AS metres, b.width_cm, b.mass_gm2, b.said, b.entry
  FROM bolt b JOIN lot_unit u ON u.lot = b.lot
 WHERE NOT EXISTS (SELECT 1 FROM void_span s WHERE s.subject = b.id AND s.until IS NULL)
   AND NOT EXISTS (SELECT 1 FROM void_span s WHERE s.subject = b.lot AND s.until IS NULL);

-- A lot with the goods in it that count, void or not.
CREATE VIEW lot_goods AS
SELECT l.id, l.ref, l.delivery, l.serial, l.article, l.colour, l.dye_lot, l.origin, l.unit_price / u.factor AS unit_price,
       l.currency,
       l.bolts - (SELECT COUNT(*) FROM void_span s WHERE s.lot = l.id AND s.about = 'bolt' AND s.until IS NULL) AS bolts,
       CASE WHEN EXISTS (SELECT 1 FROM void_span s WHERE s.lot = l.id AND s.about = 'bolt' AND s.until IS NULL)
            THEN (SELECT SUM(b.metres) FROM bolt b
                   WHERE b.lot = l.id
                     AND NOT EXISTS (SELECT 1 FROM void_span s WHERE s.subject = b.id AND s.until IS NULL))
            ELSE l.metres END * u.factor AS metres,
       CASE WHEN EXISTS (SELECT 1 FROM void_span s WHERE s.subject = l.id AND s.until IS NULL) THEN 1 ELSE 0 END AS voided,
       l.entry
  FROM lot l JOIN lot_unit u ON u.lot = l.id;

-- A lot as it stands, void or not: its delivery, supplier, the declaration, verdict and standing that count now.
CREATE VIEW lot_whole AS
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

-- Disputes that are not closed.
CREATE VIEW dispute_open AS
SELECT d.* FROM dispute d
 WHERE NOT EXISTS (SELECT 1 FROM dispute_step s WHERE s.dispute = d.id AND s.step = 'closed')
   AND NOT EXISTS (SELECT 1 FROM void_span s WHERE s.subject = d.lot AND s.until IS NULL);
