-- What a laboratory reported and a step of a dispute can be recorded by mistake too: they stay, and count nowhere.

CREATE TABLE voiding_before AS
SELECT id, about, subject, lot, why, instead, voided_at, voided_by, replaces, entry FROM voiding;
DROP TABLE voiding;
CREATE TABLE voiding (
  id       TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 26),
  about    TEXT NOT NULL CHECK (about IN ('delivery', 'lot', 'bolt', 'swatch', 'burn', 'bench_test', 'analysis',
                                          'dispute_step')),
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

DROP VIEW analysis_now;
DROP VIEW dispute_open;

-- When a report stops to count, as burn_end: it is void, or one that is not void corrects it.
CREATE VIEW analysis_end AS
SELECT r.replaces AS analysis, r.entry AS since, (SELECT s.since FROM void_span s WHERE s.subject = r.id) AS until
  FROM analysis r WHERE r.replaces IS NOT NULL
UNION ALL
SELECT s.subject AS analysis, s.since, s.until FROM void_span s WHERE s.about = 'analysis';

CREATE VIEW analysis_now AS
SELECT a.* FROM analysis a WHERE NOT EXISTS (SELECT 1 FROM analysis_end e WHERE e.analysis = a.id AND e.until IS NULL);

CREATE VIEW dispute_step_now AS
SELECT s.* FROM dispute_step s
 WHERE NOT EXISTS (SELECT 1 FROM void_span v WHERE v.subject = s.id AND v.until IS NULL);

-- A dispute of which the opening is void never was one.
CREATE VIEW dispute_now AS
SELECT d.* FROM dispute d
 WHERE EXISTS (SELECT 1 FROM dispute_step_now s WHERE s.dispute = d.id AND s.step = 'opened');

-- Disputes that are not closed.
CREATE VIEW dispute_open AS
SELECT d.* FROM dispute_now d
 WHERE NOT EXISTS (SELECT 1 FROM dispute_step_now s WHERE s.dispute = d.id AND s.step = 'closed')
   AND NOT EXISTS (SELECT 1 FROM void_span s WHERE s.subject = d.lot AND s.until IS NULL);

-- A hold that a verdict made by itself goes with that verdict, and one that the opening of a dispute made with that; what a person
-- decided stays.
DROP VIEW standing_now;
CREATE VIEW standing_gone AS
SELECT t.id FROM standing t
 WHERE t.standing = 'held'
   AND (EXISTS (SELECT 1 FROM verdict_void g WHERE g.lot = t.lot AND g.entry = t.entry AND g.verdict = 'contradicts')
     OR EXISTS (SELECT 1 FROM dispute d JOIN dispute_step y ON y.dispute = d.id AND y.step = 'opened'
                  JOIN void_span s ON s.subject = y.id AND s.until IS NULL
                 WHERE d.lot = t.lot AND d.entry = t.entry));

CREATE VIEW standing_now AS
SELECT t.* FROM standing t
 WHERE NOT EXISTS (SELECT 1 FROM standing_gone g WHERE g.id = t.id)
   AND NOT EXISTS (SELECT 1 FROM void_span s WHERE s.subject = t.lot AND s.until IS NULL);
