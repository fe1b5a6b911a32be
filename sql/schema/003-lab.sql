-- What a laboratory found in a lot.

CREATE TABLE analysis (
  id       TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 26),
  lot      TEXT NOT NULL REFERENCES lot (id),
  declaration TEXT REFERENCES declaration (id), -- the one it was compared with; NULL: with none
  part     TEXT NOT NULL,                -- whole, warp, weft, pile ...
  laboratory TEXT NOT NULL,              -- who analysed, '' not said
  report   TEXT NOT NULL,                -- number of the laboratory's report, '' none
  route    TEXT NOT NULL,                -- dissolve, hand, variant_1 .. variant_4, nitrogen, reported
  methods  TEXT NOT NULL,                -- numbers of Annex VIII, Regulation (EU) 1007/2011, parted by blanks
  found    TEXT NOT NULL,                -- composition with agreed allowances, % by mass
  u        DOUBLE PRECISION NOT NULL,    -- largest standard uncertainty of a share, points
  answers  TEXT NOT NULL,                -- "us:conforms eu:cannot_be_said", '' compared with nothing
  detail   TEXT NOT NULL,                -- masses, factors, allowances, budget, decisions as JSON
  analysed_on TEXT NOT NULL CHECK (length(analysed_on) = 10),
  recorded_at TEXT NOT NULL,
  recorded_by TEXT NOT NULL REFERENCES person (id),
  replaces TEXT REFERENCES analysis (id), -- the record this one corrects
  entry    BIGINT NOT NULL REFERENCES journal (number) DEFERRABLE INITIALLY DEFERRED
);
CREATE INDEX analysis_by_lot ON analysis (lot, entry, id);
CREATE INDEX analysis_by_replaced ON analysis (replaces);

-- Analyses that count: those no later one corrects.
CREATE VIEW analysis_now AS
SELECT a.* FROM analysis a WHERE NOT EXISTS (SELECT 1 FROM analysis r WHERE r.replaces = a.id);
