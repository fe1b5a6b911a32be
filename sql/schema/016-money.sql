-- What a claim comes to: what came in of it, step by step, and goods priced otherwise than by the metre. A bolt that was returned is not
-- there: what is decided of the others says nothing of it.

DROP VIEW dispute_open;
CREATE TABLE dispute_step_before AS
SELECT id, dispute, step, day, words, due, remedy, amount, currency, channel, proof, document, keep_until, recorded_at, recorded_by,
       entry
  FROM dispute_step;
DROP TABLE dispute_step;
CREATE TABLE dispute_step (
  id       TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 26),
  dispute  TEXT NOT NULL REFERENCES dispute (id),
  step     TEXT NOT NULL CHECK (step IN ('opened', 'notified', 'answered', 'agreed', 'recovered', 'closed')),
  day      TEXT NOT NULL CHECK (length(day) = 10), -- when it happened
  words    TEXT NOT NULL,                -- what is claimed, what was answered, what came in, how it ended
  due      TEXT,                         -- notified: answer by; agreed: done by; NULL not said
  remedy   TEXT NOT NULL CHECK (remedy IN ('', 'credit', 'return', 'relabel', 'replacement')), -- agreed
  amount   DOUBLE PRECISION,             -- claimed, offered, agreed; recovered, closed: came in with this step. NULL not said
  currency TEXT NOT NULL,                -- ISO 4217, '' no amount
  channel  TEXT NOT NULL,                -- notified: how it was sent; '' not said
  proof    TEXT NOT NULL,                -- of sending: tracking number, message id; '' none
  document TEXT REFERENCES attachment (id), -- the exact document sent or received
  keep_until TEXT,                       -- closed: the file is kept at least so long
  recorded_at TEXT NOT NULL,
  recorded_by TEXT NOT NULL REFERENCES person (id),
  entry    BIGINT NOT NULL REFERENCES journal (number) DEFERRABLE INITIALLY DEFERRED
);
INSERT INTO dispute_step (id, dispute, step, day, words, due, remedy, amount, currency, channel, proof, document, keep_until,
                          recorded_at, recorded_by, entry)
SELECT id, dispute, step, day, words, due, remedy, amount, currency, channel, proof, document, keep_until, recorded_at, recorded_by,
       entry
  FROM dispute_step_before;
DROP TABLE dispute_step_before;
CREATE INDEX dispute_step_by_dispute ON dispute_step (dispute, entry, id);

-- Disputes that are not closed.
CREATE VIEW dispute_open AS
SELECT d.* FROM dispute d
 WHERE NOT EXISTS (SELECT 1 FROM dispute_step s WHERE s.dispute = d.id AND s.step = 'closed')
   AND NOT EXISTS (SELECT 1 FROM void_span s WHERE s.subject = d.lot AND s.until IS NULL);

-- The price of a lot as it was written, where that is not a price a metre.
CREATE TABLE lot_price (
  id       TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 26),
  lot      TEXT NOT NULL REFERENCES lot (id),
  price    DOUBLE PRECISION NOT NULL CHECK (price >= 0), -- of one unit
  unit     TEXT NOT NULL,                -- yd, ft, cm, kg ...
  metres   DOUBLE PRECISION,             -- in one unit; NULL: it is not a length
  currency TEXT NOT NULL,
  entry    BIGINT NOT NULL REFERENCES journal (number) DEFERRABLE INITIALLY DEFERRED
);
CREATE INDEX lot_price_by_lot ON lot_price (lot);

-- In what unit a lot is priced, and what one unit costs. Whoever amends the unit says that the figures meant another one.
CREATE VIEW lot_invoiced AS
SELECT l.id AS lot, COALESCE(p.price, l.unit_price) AS price, COALESCE(p.currency, l.currency) AS currency,
       CASE WHEN p.unit = 'kg' THEN 'kg' WHEN u.factor < 1.0 THEN 'yd' WHEN u.factor > 1.0 THEN 'm'
            ELSE COALESCE(p.unit, 'm') END AS unit,
       CASE WHEN p.unit = 'kg' THEN NULL WHEN u.factor < 1.0 THEN 0.9144 WHEN u.factor > 1.0 THEN 1.0
            ELSE COALESCE(p.metres, 1.0) END AS unit_metres
  FROM lot l JOIN lot_unit u ON u.lot = l.id LEFT JOIN lot_price p ON p.lot = l.id;

-- Those in force: the last of its bolt. A later decision about the whole lot takes its place, but a bolt that was returned stays so
-- until the lot is waiting again, or returned as a whole.
DROP VIEW lot_singles;
DROP VIEW bolt_standing_now;
CREATE VIEW bolt_standing_now AS
SELECT s.* FROM bolt_standing s JOIN bolt_now b ON b.id = s.bolt
 WHERE NOT EXISTS (SELECT 1 FROM bolt_standing r
                    WHERE r.bolt = s.bolt AND (r.entry > s.entry OR (r.entry = s.entry AND r.id > s.id)))
   AND NOT EXISTS (SELECT 1 FROM standing_now t
                    WHERE t.lot = s.lot AND t.entry >= s.entry
                      AND (s.standing <> 'returned' OR t.standing IN ('waiting', 'returned')));

-- How many bolts of a lot were decided of by themselves.
CREATE VIEW lot_singles AS
SELECT l.id AS lot, (SELECT COUNT(*) FROM bolt_standing_now x WHERE x.lot = l.id) AS singles,
       (SELECT COUNT(*) FROM bolt_standing_now x WHERE x.lot = l.id AND x.standing = 'released') AS released,
       (SELECT COUNT(*) FROM bolt_standing_now x WHERE x.lot = l.id AND x.standing = 'returned') AS returned
  FROM lot l;
