-- The first shape of the book. Written so that SQLite >= 3.40 and PostgreSQL >= 15 both run it.
--
-- Every table but `journal` holds facts. A fact is never edited or deleted: `entry` names the journal row that
-- covers it, `replaces` (where a table has it) the fact it corrects. Keys are made by the program: 26 characters
-- that sort by time. Days are YYYY-MM-DD, moments YYYY-MM-DDThh:mm:ssZ, flags 0 or 1, lengths in metres.

CREATE TABLE journal (
  number   BIGINT NOT NULL PRIMARY KEY,  -- 1, 2, 3 ... without gaps
  at       TEXT NOT NULL,                -- moment of writing
  person   TEXT NOT NULL,                -- who wrote, by name
  verb     TEXT NOT NULL,                -- the command: receive, cut, burn ...
  subject  TEXT NOT NULL,                -- what it was about: a delivery's, lot's or swatch's reference
  content  TEXT NOT NULL,                -- JSON: for each table the rows written and their SHA-256
  before   TEXT NOT NULL,                -- digest of the row before, 64 hex digits; zeros for the first
  digest   TEXT NOT NULL                 -- SHA-256 over all the other columns
);

CREATE TABLE site (
  id       TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 26),
  code     TEXT NOT NULL CHECK (length(code) BETWEEN 1 AND 4), -- begins every reference of the site
  name     TEXT NOT NULL,
  country  TEXT NOT NULL,                -- ISO 3166-1 alpha-2, '' unknown
  entry    BIGINT NOT NULL REFERENCES journal (number) DEFERRABLE INITIALLY DEFERRED
);

CREATE TABLE setting (
  id       TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 26),
  name     TEXT NOT NULL,                -- the latest row of a name counts
  value    TEXT NOT NULL,
  entry    BIGINT NOT NULL REFERENCES journal (number) DEFERRABLE INITIALLY DEFERRED
);
CREATE INDEX setting_by_name ON setting (name, entry, id);

CREATE TABLE person (
  id       TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 26),
  name     TEXT NOT NULL UNIQUE,
  entry    BIGINT NOT NULL REFERENCES journal (number) DEFERRABLE INITIALLY DEFERRED
);

CREATE TABLE supplier (
  id       TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 26),
  name     TEXT NOT NULL,                -- as first written
  folded   TEXT NOT NULL UNIQUE,         -- case, accents and spaces removed: how it is found again
  entry    BIGINT NOT NULL REFERENCES journal (number) DEFERRABLE INITIALLY DEFERRED
);

CREATE TABLE delivery (
  id       TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 26),
  ref      TEXT NOT NULL UNIQUE,         -- W26-014: site code, year, number
  site     TEXT NOT NULL REFERENCES site (id),
  year     BIGINT NOT NULL,
  serial   BIGINT NOT NULL,              -- number within the site and year
  supplier TEXT NOT NULL REFERENCES supplier (id),
  note     TEXT NOT NULL,                -- delivery note number as printed, '' none
  order_no TEXT NOT NULL,
  note_day TEXT,                         -- date on the note, NULL not given
  arrived  TEXT NOT NULL CHECK (length(arrived) = 10), -- day the goods came in
  received_at TEXT NOT NULL,             -- moment it was recorded
  received_by TEXT NOT NULL REFERENCES person (id),
  file_name   TEXT NOT NULL,             -- the supplier's file, '' when typed
  file_digest TEXT NOT NULL,             -- SHA-256 of that file, 64 hex digits; '' when typed
  remark   TEXT NOT NULL,                -- "received unexamined", damage noted at the door
  entry    BIGINT NOT NULL REFERENCES journal (number) DEFERRABLE INITIALLY DEFERRED
);
CREATE INDEX delivery_by_arrival ON delivery (arrived, id);
CREATE INDEX delivery_by_supplier ON delivery (supplier, id);
CREATE INDEX delivery_by_file ON delivery (file_digest);

CREATE TABLE lot (
  id       TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 26),
  ref      TEXT NOT NULL UNIQUE,         -- W26-014.02: delivery, number of the lot
  delivery TEXT NOT NULL REFERENCES delivery (id),
  serial   BIGINT NOT NULL,
  article  TEXT NOT NULL,                -- '' not given
  colour   TEXT NOT NULL,
  dye_lot  TEXT NOT NULL,
  origin   TEXT NOT NULL,                -- country of origin as written
  unit_price DOUBLE PRECISION,           -- per metre, NULL not given
  currency TEXT NOT NULL,                -- ISO 4217, '' not given
  bolts    BIGINT NOT NULL,              -- how many bolts came in it
  metres   DOUBLE PRECISION NOT NULL,    -- their length together
  entry    BIGINT NOT NULL REFERENCES journal (number) DEFERRABLE INITIALLY DEFERRED
);
CREATE INDEX lot_by_delivery ON lot (delivery, serial);

CREATE TABLE declaration (
  id       TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 26),
  lot      TEXT NOT NULL REFERENCES lot (id),
  text     TEXT NOT NULL,                -- the words as received
  reading  TEXT NOT NULL,                -- the composition read from them, '' when none could be
  clear    BIGINT NOT NULL CHECK (clear IN (0, 1)), -- 1: nothing blocks a verdict
  doubts   TEXT NOT NULL,                -- sentences, one a line
  origin   TEXT NOT NULL,                -- row, title, option, answer, relabel
  replaces TEXT REFERENCES declaration (id),
  entry    BIGINT NOT NULL REFERENCES journal (number) DEFERRABLE INITIALLY DEFERRED
);
CREATE INDEX declaration_by_lot ON declaration (lot, entry, id);

CREATE TABLE bolt (
  id       TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 26),
  lot      TEXT NOT NULL REFERENCES lot (id),
  number   TEXT NOT NULL,                -- as on the ticket
  metres   DOUBLE PRECISION NOT NULL CHECK (metres > 0),
  width_cm DOUBLE PRECISION,             -- NULL not given
  mass_gm2 DOUBLE PRECISION,             -- g/m2, NULL not given
  said     TEXT NOT NULL,                -- the length as written where it was not plain metres, '' else
  entry    BIGINT NOT NULL REFERENCES journal (number) DEFERRABLE INITIALLY DEFERRED
);
CREATE INDEX bolt_by_lot ON bolt (lot, id);
CREATE INDEX bolt_by_number ON bolt (number);

CREATE TABLE swatch (
  id       TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 26),
  tag      TEXT NOT NULL UNIQUE,         -- W26-014.02.03: lot, number of the swatch; W26-K05: known cloth
  lot      TEXT REFERENCES lot (id),     -- NULL: known cloth, of no lot
  bolt     TEXT REFERENCES bolt (id),
  serial   BIGINT NOT NULL,
  part     TEXT NOT NULL,                -- whole, warp, weft, pile ...
  known    TEXT NOT NULL,                -- composition known beforehand, '' unknown
  kept     TEXT NOT NULL,                -- where the unburnt half is kept
  cut_at   TEXT NOT NULL,                -- moment it was cut
  cut_by   TEXT NOT NULL REFERENCES person (id),
  entry    BIGINT NOT NULL REFERENCES journal (number) DEFERRABLE INITIALLY DEFERRED
);
CREATE INDEX swatch_by_lot ON swatch (lot, serial);
CREATE INDEX swatch_by_bolt ON swatch (bolt);

CREATE TABLE burn (
  id       TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 26),
  swatch   TEXT NOT NULL REFERENCES swatch (id),
  looked   TEXT NOT NULL,                -- channels looked at, parted by blanks
  burned_at TEXT NOT NULL,               -- moment of the burn
  burned_by TEXT NOT NULL REFERENCES person (id),
  recorded_at TEXT NOT NULL,             -- moment it was written down
  flame    TEXT NOT NULL,                -- candle, spirit lamp ...; '' not said
  sample_mm DOUBLE PRECISION,            -- longest side of what was burned, NULL not said
  at_hand  TEXT NOT NULL,                -- what stood ready to put it out: water, sand ...; '' not said
  dead_at  TEXT,                         -- moment the residue was checked dead, NULL not said
  note     TEXT NOT NULL,
  replaces TEXT REFERENCES burn (id),    -- the burn record this one corrects
  entry    BIGINT NOT NULL REFERENCES journal (number) DEFERRABLE INITIALLY DEFERRED
);
CREATE INDEX burn_by_swatch ON burn (swatch, id);
CREATE INDEX burn_by_replaced ON burn (replaces);

CREATE TABLE cue_seen (
  id       TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 26),
  burn     TEXT NOT NULL REFERENCES burn (id),
  cue      TEXT NOT NULL,                -- channel:cue
  seen     BIGINT NOT NULL CHECK (seen IN (0, 1)), -- 0: looked for and expressly not there
  entry    BIGINT NOT NULL REFERENCES journal (number) DEFERRABLE INITIALLY DEFERRED
);
CREATE INDEX cue_seen_by_burn ON cue_seen (burn, id);

CREATE TABLE bench_test (
  id       TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 26),
  swatch   TEXT NOT NULL REFERENCES swatch (id),
  test     TEXT NOT NULL,                -- solvent:acetone, melting, microscope, float ...
  result   TEXT NOT NULL,
  tested_at TEXT NOT NULL,
  tested_by TEXT NOT NULL REFERENCES person (id),
  note     TEXT NOT NULL,
  replaces TEXT REFERENCES bench_test (id),
  entry    BIGINT NOT NULL REFERENCES journal (number) DEFERRABLE INITIALLY DEFERRED
);
CREATE INDEX bench_test_by_swatch ON bench_test (swatch, id);
CREATE INDEX bench_test_by_replaced ON bench_test (replaces);

CREATE TABLE verdict (
  id       TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 26),
  lot      TEXT NOT NULL REFERENCES lot (id),
  verdict  TEXT NOT NULL CHECK (verdict IN ('fits', 'contradicts', 'undecided')),
  log_ratio DOUBLE PRECISION NOT NULL,   -- natural logarithm of the evidence ratio
  bolts_burnt BIGINT NOT NULL,           -- N of "N of M bolts burnt"
  bolts    BIGINT NOT NULL,              -- M
  reference TEXT NOT NULL,               -- digest of the reference tables it was computed with
  detail   TEXT NOT NULL,                -- the whole verdict as JSON
  judged_at TEXT NOT NULL,
  judged_by TEXT NOT NULL REFERENCES person (id),
  entry    BIGINT NOT NULL REFERENCES journal (number) DEFERRABLE INITIALLY DEFERRED
);
CREATE INDEX verdict_by_lot ON verdict (lot, entry, id);

CREATE TABLE standing (
  id       TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 26),
  lot      TEXT NOT NULL REFERENCES lot (id),
  standing TEXT NOT NULL CHECK (standing IN ('waiting', 'held', 'released', 'relabelled', 'returned')),
  why      TEXT NOT NULL,
  old_words TEXT NOT NULL,               -- relabelled: what the label said; '' else
  new_words TEXT NOT NULL,               -- relabelled: what it says now
  goods_of TEXT NOT NULL,                -- relabelled: whose goods they were
  settled_at TEXT NOT NULL,
  settled_by TEXT NOT NULL REFERENCES person (id),
  entry    BIGINT NOT NULL REFERENCES journal (number) DEFERRABLE INITIALLY DEFERRED
);
CREATE INDEX standing_by_lot ON standing (lot, entry, id);

CREATE TABLE attachment (
  id       TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 26),
  about    TEXT NOT NULL CHECK (about IN ('delivery', 'lot', 'swatch', 'burn', 'bench_test', 'standing')),
  subject  TEXT NOT NULL,                -- id of a row of that table
  name     TEXT NOT NULL,                -- file name as given, never used as a path
  media    TEXT NOT NULL,                -- image/jpeg ...
  sha256   TEXT NOT NULL,
  bytes    BYTEA NOT NULL,
  entry    BIGINT NOT NULL REFERENCES journal (number) DEFERRABLE INITIALLY DEFERRED
);
CREATE INDEX attachment_by_subject ON attachment (subject, id);

-- Burns and bench tests that count: those no later one corrects.
CREATE VIEW burn_now AS
SELECT b.* FROM burn b WHERE NOT EXISTS (SELECT 1 FROM burn r WHERE r.replaces = b.id);

CREATE VIEW bench_test_now AS
SELECT t.* FROM bench_test t WHERE NOT EXISTS (SELECT 1 FROM bench_test r WHERE r.replaces = t.id);

-- A lot as it stands: its delivery, supplier, the declaration, verdict and standing that count now.
CREATE VIEW lot_now AS
SELECT l.id, l.ref, l.delivery, l.serial, l.article, l.colour, l.dye_lot, l.origin, l.unit_price, l.currency,
       l.bolts, l.metres, d.ref AS delivery_ref, d.arrived, d.supplier, s.name AS supplier_name,
       COALESCE(c.text, '') AS declared, COALESCE(c.reading, '') AS reading, COALESCE(c.clear, 0) AS clear,
       COALESCE(c.doubts, '') AS doubts, c.id AS declaration, COALESCE(t.standing, 'waiting') AS standing,
       COALESCE(v.verdict, '') AS verdict, v.log_ratio,
       (SELECT COUNT(DISTINCT w.bolt) FROM swatch w JOIN burn_now b ON b.swatch = w.id WHERE w.lot = l.id)
         AS bolts_burnt,
       (SELECT COUNT(*) FROM swatch w JOIN burn_now b ON b.swatch = w.id WHERE w.lot = l.id) AS burns
  FROM lot l
  JOIN delivery d ON d.id = l.delivery
  JOIN supplier s ON s.id = d.supplier
  LEFT JOIN declaration c
    ON c.id = (SELECT x.id FROM declaration x WHERE x.lot = l.id ORDER BY x.entry DESC, x.id DESC LIMIT 1)
  LEFT JOIN standing t
    ON t.id = (SELECT x.id FROM standing x WHERE x.lot = l.id ORDER BY x.entry DESC, x.id DESC LIMIT 1)
  LEFT JOIN verdict v
    ON v.id = (SELECT x.id FROM verdict x WHERE x.lot = l.id ORDER BY x.entry DESC, x.id DESC LIMIT 1);
