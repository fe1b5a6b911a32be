-- What was sent to a laboratory without a joint sample: when, where to, and which swatches. It counts no more once it is void, or once
-- all of its swatches are.

CREATE TABLE sending (
  id       TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 26),
  lot      TEXT NOT NULL REFERENCES lot (id),
  laboratory TEXT NOT NULL CHECK (laboratory <> ''),
  sent_on  TEXT NOT NULL CHECK (length(sent_on) = 10),
  recorded_at TEXT NOT NULL,
  recorded_by TEXT NOT NULL REFERENCES person (id),
  entry    BIGINT NOT NULL REFERENCES journal (number) DEFERRABLE INITIALLY DEFERRED
);
CREATE INDEX sending_by_lot ON sending (lot, entry, id);

CREATE TABLE sending_piece (
  id       TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 26),
  sending  TEXT NOT NULL REFERENCES sending (id),
  swatch   TEXT NOT NULL REFERENCES swatch (id),
  entry    BIGINT NOT NULL REFERENCES journal (number) DEFERRABLE INITIALLY DEFERRED
);
CREATE INDEX sending_piece_by_sending ON sending_piece (sending, id);
CREATE INDEX sending_piece_by_swatch ON sending_piece (swatch);

CREATE TABLE voiding_before AS
SELECT id, about, subject, lot, why, instead, voided_at, voided_by, replaces, entry FROM voiding;
DROP TABLE voiding;
CREATE TABLE voiding (
  id       TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 26),
  about    TEXT NOT NULL CHECK (about IN ('delivery', 'lot', 'bolt', 'swatch', 'burn', 'bench_test', 'analysis',
                                          'dispute_step', 'sending')),
  subject  TEXT NOT NULL,                -- id of a row of that table
  lot      TEXT REFERENCES lot (id),     -- the lot it is of; NULL: a delivery (each of its lots has a row), or known cloth
  why      TEXT NOT NULL,
  instead  TEXT NOT NULL,                -- id of the burn of another swatch that was recorded in its place; '' none was
  voided_at TEXT NOT NULL,
  voided_by TEXT NOT NULL REFERENCES person (id),
  replaces TEXT REFERENCES voiding (id), -- the one it takes back: its subject counts again; NULL: the subject is void
  entry    BIGINT NOT NULL REFERENCES journal (number) DEFERRABLE INITIALLY DEFERRED
);
INSERT INTO voiding (id, about, subject, lot, why, instead, voided_at, voided_by, replaces, entry)
SELECT id, about, subject, lot, why, instead, voided_at, voided_by, replaces, entry FROM voiding_before ORDER BY entry, id;
DROP TABLE voiding_before;
CREATE INDEX voiding_by_subject ON voiding (subject, entry);
CREATE INDEX voiding_by_lot ON voiding (lot, about);
CREATE INDEX voiding_by_replaced ON voiding (replaces);

CREATE VIEW sending_now AS
SELECT s.* FROM sending s
 WHERE NOT EXISTS (SELECT 1 FROM void_span v WHERE v.subject = s.id AND v.until IS NULL)
   AND EXISTS (SELECT 1 FROM sending_piece p JOIN swatch_now w ON w.id = p.swatch WHERE p.sending = s.id);

-- The reports that answer what was sent: of that laboratory, or of one that was not named, and analysed on a later day. One of the same
-- day answers what was recorded before it.
CREATE VIEW sending_answer AS
SELECT s.id AS sending, s.lot, s.laboratory, a.id AS analysis, a.analysed_on
  FROM sending_now s JOIN analysis_now a ON a.lot = s.lot
 WHERE a.laboratory IN ('', s.laboratory)
   AND (a.analysed_on > s.sent_on OR (a.analysed_on = s.sent_on AND a.entry > s.entry));
