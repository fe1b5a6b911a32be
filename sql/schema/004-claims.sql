-- Claims: terms agreed with suppliers, goods taken into use, joint samples, disputes.

CREATE TABLE supplier_term (
  id       TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 26),
  supplier TEXT REFERENCES supplier (id), -- NULL: every supplier of the country, or of all countries
  country  TEXT NOT NULL,                -- of the supplier, ISO 3166-1 alpha-2; '' not said, or all countries
  laws     TEXT NOT NULL,                -- keys of the table of terms, parted by blanks
  open_days   BIGINT,                    -- own term for faults an examination shows, from arrival; NULL none
  hidden_days BIGINT,                    -- own term for hidden faults, from discovery; NULL none
  working  BIGINT NOT NULL CHECK (working IN (0, 1)), -- 1: working days
  before_cutting BIGINT NOT NULL CHECK (before_cutting IN (0, 1)), -- 1: and in any case before the first cut
  stands_in TEXT NOT NULL,               -- where the own term stands: contract, order ...; '' not said
  set_at   TEXT NOT NULL,
  set_by   TEXT NOT NULL REFERENCES person (id),
  entry    BIGINT NOT NULL REFERENCES journal (number) DEFERRABLE INITIALLY DEFERRED
);
CREATE INDEX supplier_term_by_supplier ON supplier_term (supplier, country, entry, id);

CREATE TABLE bolt_use (
  id       TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 26),
  bolt     TEXT NOT NULL REFERENCES bolt (id),
  used     BIGINT NOT NULL CHECK (used IN (0, 1)), -- 1: cut into; 0: corrects a record made by mistake
  metres   DOUBLE PRECISION,             -- how much of it, NULL: the whole bolt or not said
  why      TEXT NOT NULL,                -- what for; the reason where it was done all the same
  anyway   BIGINT NOT NULL CHECK (anyway IN (0, 1)), -- 1: although the lot was held or a dispute was open
  used_at  TEXT NOT NULL,
  used_by  TEXT NOT NULL REFERENCES person (id),
  replaces TEXT REFERENCES bolt_use (id),
  entry    BIGINT NOT NULL REFERENCES journal (number) DEFERRABLE INITIALLY DEFERRED
);
CREATE INDEX bolt_use_by_bolt ON bolt_use (bolt, id);
CREATE INDEX bolt_use_by_replaced ON bolt_use (replaces);

CREATE TABLE joint_sample (
  id       TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 26),
  lot      TEXT NOT NULL REFERENCES lot (id),
  serial   BIGINT NOT NULL,              -- 1, 2 ... within the lot
  swatches BIGINT NOT NULL,              -- retained swatches dealt from
  each_one BIGINT NOT NULL,              -- swatches for the supplier, and as many for the laboratory
  seed     TEXT NOT NULL,                -- deals the same again (docs/claims.md)
  laboratory TEXT NOT NULL,              -- agreed with the supplier, '' not yet
  rule     TEXT NOT NULL,                -- agreed method and rule of decision, '' not yet
  present  TEXT NOT NULL,                -- who was there, of both sides; '' not said
  dealt_at TEXT NOT NULL,
  dealt_by TEXT NOT NULL REFERENCES person (id),
  entry    BIGINT NOT NULL REFERENCES journal (number) DEFERRABLE INITIALLY DEFERRED
);
CREATE INDEX joint_sample_by_lot ON joint_sample (lot, serial);

CREATE TABLE joint_piece (
  id       TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 26),
  sample   TEXT NOT NULL REFERENCES joint_sample (id),
  swatch   TEXT NOT NULL UNIQUE REFERENCES swatch (id), -- a swatch is dealt once
  holder   TEXT NOT NULL CHECK (holder IN ('supplier', 'laboratory', 'own')),
  entry    BIGINT NOT NULL REFERENCES journal (number) DEFERRABLE INITIALLY DEFERRED
);
CREATE INDEX joint_piece_by_sample ON joint_piece (sample, id);

CREATE TABLE dispute (
  id       TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 26),
  lot      TEXT NOT NULL REFERENCES lot (id),
  serial   BIGINT NOT NULL,              -- 1, 2 ... within the lot
  found_on TEXT,                         -- day the fault was found, NULL: that of the first verdict against it
  entry    BIGINT NOT NULL REFERENCES journal (number) DEFERRABLE INITIALLY DEFERRED,
  UNIQUE (lot, serial)
);

CREATE TABLE dispute_step (
  id       TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 26),
  dispute  TEXT NOT NULL REFERENCES dispute (id),
  step     TEXT NOT NULL CHECK (step IN ('opened', 'notified', 'answered', 'agreed', 'closed')),
  day      TEXT NOT NULL CHECK (length(day) = 10), -- when it happened
  words    TEXT NOT NULL,                -- what is claimed, what was answered, how it ended
  due      TEXT,                         -- notified: answer by; agreed: done by; NULL not said
  remedy   TEXT NOT NULL CHECK (remedy IN ('', 'credit', 'return', 'relabel', 'replacement')), -- agreed
  amount   DOUBLE PRECISION,             -- claimed, offered, agreed, paid; NULL not said
  currency TEXT NOT NULL,                -- ISO 4217, '' no amount
  channel  TEXT NOT NULL,                -- notified: how it was sent; '' not said
  proof    TEXT NOT NULL,                -- of sending: tracking number, message id; '' none
  document TEXT REFERENCES attachment (id), -- the exact document sent or received
  keep_until TEXT,                       -- closed: the file is kept at least so long
  recorded_at TEXT NOT NULL,
  recorded_by TEXT NOT NULL REFERENCES person (id),
  entry    BIGINT NOT NULL REFERENCES journal (number) DEFERRABLE INITIALLY DEFERRED
);
CREATE INDEX dispute_step_by_dispute ON dispute_step (dispute, entry, id);

-- Bolts cut into, without what was recorded by mistake.
CREATE VIEW bolt_use_now AS
SELECT u.* FROM bolt_use u
 WHERE u.used = 1 AND NOT EXISTS (SELECT 1 FROM bolt_use r WHERE r.replaces = u.id);

-- Disputes that are not closed.
CREATE VIEW dispute_open AS
SELECT d.* FROM dispute d
 WHERE NOT EXISTS (SELECT 1 FROM dispute_step s WHERE s.dispute = d.id AND s.step = 'closed');
