-- What becomes of single bolts of a lot: a lot may be released in part. A later decision about the whole lot, or a hold, is of all its bolts.

CREATE TABLE bolt_standing (
  id       TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 26),
  lot      TEXT NOT NULL REFERENCES lot (id),
  bolt     TEXT NOT NULL REFERENCES bolt (id),
  standing TEXT NOT NULL CHECK (standing IN ('held', 'released', 'returned')),
  why      TEXT NOT NULL,
  settled_at TEXT NOT NULL,
  settled_by TEXT NOT NULL REFERENCES person (id),
  entry    BIGINT NOT NULL REFERENCES journal (number) DEFERRABLE INITIALLY DEFERRED
);
CREATE INDEX bolt_standing_by_lot ON bolt_standing (lot, entry);
CREATE INDEX bolt_standing_by_bolt ON bolt_standing (bolt, entry, id);

-- Those in force: the last of its bolt, and nothing was decided about the whole lot since.
CREATE VIEW bolt_standing_now AS
SELECT s.* FROM bolt_standing s JOIN bolt_now b ON b.id = s.bolt
 WHERE NOT EXISTS (SELECT 1 FROM bolt_standing r
                    WHERE r.bolt = s.bolt AND (r.entry > s.entry OR (r.entry = s.entry AND r.id > s.id)))
   AND NOT EXISTS (SELECT 1 FROM standing_now t WHERE t.lot = s.lot AND t.entry >= s.entry);

-- How many bolts of a lot were decided of by themselves.
CREATE VIEW lot_singles AS
SELECT l.id AS lot, (SELECT COUNT(*) FROM bolt_standing_now x WHERE x.lot = l.id) AS singles,
       (SELECT COUNT(*) FROM bolt_standing_now x WHERE x.lot = l.id AND x.standing = 'released') AS released,
       (SELECT COUNT(*) FROM bolt_standing_now x WHERE x.lot = l.id AND x.standing = 'returned') AS returned
  FROM lot l;
