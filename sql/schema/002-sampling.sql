-- Draws of bolts, and known swatches dealt to testers blind.

CREATE TABLE draw (
  id       TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 26),
  about    TEXT NOT NULL,                -- reference of the lot or delivery drawn from; several parted by blanks
  plan     TEXT NOT NULL CHECK (plan IN ('discovery', 'acceptance', 'share', 'every')),
  bolts    BIGINT NOT NULL,              -- bolts drawn from
  cut      BIGINT NOT NULL,              -- bolts to cut
  bad      BIGINT NOT NULL,              -- false bolts that must not slip through ...
  chance   DOUBLE PRECISION NOT NULL,    -- ... and the chance that the draw shows it, 0..1
  sure     DOUBLE PRECISION NOT NULL,    -- the chance asked for, 0..1
  catch_one DOUBLE PRECISION NOT NULL,   -- chance that burning a false bolt shows it, 0..1
  catch_from TEXT NOT NULL,              -- where that chance comes from
  aql      DOUBLE PRECISION,             -- per cent; NULL: no acceptance plan
  level    TEXT NOT NULL,                -- S-1 .. III; '' no acceptance plan
  inspection TEXT NOT NULL,              -- normal, tightened, reduced; '' no acceptance plan
  accept   BIGINT NOT NULL,              -- the lot passes with no more than this many false
  refuse   BIGINT NOT NULL,              -- and is refused with this many
  seed     TEXT NOT NULL,                -- draws the same bolts again (docs/sampling.md)
  drawn_at TEXT NOT NULL,
  drawn_by TEXT NOT NULL REFERENCES person (id),
  entry    BIGINT NOT NULL REFERENCES journal (number) DEFERRABLE INITIALLY DEFERRED
);
CREATE INDEX draw_by_about ON draw (about, entry, id);

CREATE TABLE draw_bolt (
  id       TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 26),
  draw     TEXT NOT NULL REFERENCES draw (id),
  bolt     TEXT NOT NULL REFERENCES bolt (id),
  entry    BIGINT NOT NULL REFERENCES journal (number) DEFERRABLE INITIALLY DEFERRED
);
CREATE INDEX draw_bolt_by_draw ON draw_bolt (draw, id);

CREATE TABLE drill (
  id       TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 26),
  serial   BIGINT NOT NULL UNIQUE,       -- 1, 2, 3 ...
  tester   TEXT NOT NULL,                -- whom the swatches were dealt to, by name
  seed     TEXT NOT NULL,                -- the order came from it
  dealt_at TEXT NOT NULL,
  dealt_by TEXT NOT NULL REFERENCES person (id),
  entry    BIGINT NOT NULL REFERENCES journal (number) DEFERRABLE INITIALLY DEFERRED
);

CREATE TABLE drill_card (
  id       TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 26),
  drill    TEXT NOT NULL REFERENCES drill (id),
  serial   BIGINT NOT NULL,              -- place in the order, 1 ...; the card is called 3-07
  swatch   TEXT NOT NULL REFERENCES swatch (id), -- a known one; not told before the answer
  entry    BIGINT NOT NULL REFERENCES journal (number) DEFERRABLE INITIALLY DEFERRED
);
CREATE INDEX drill_card_by_drill ON drill_card (drill, serial);

CREATE TABLE drill_answer (
  id       TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 26),
  card     TEXT NOT NULL UNIQUE REFERENCES drill_card (id), -- one answer a card
  answer   TEXT NOT NULL,                -- class of fibres named: cellulose, protein ...; '' could not tell
  burn     TEXT NOT NULL REFERENCES burn (id), -- what was seen
  entry    BIGINT NOT NULL REFERENCES journal (number) DEFERRABLE INITIALLY DEFERRED
);

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
               (SELECT t.standing FROM standing t WHERE t.lot = l.id ORDER BY t.entry DESC, t.id DESC LIMIT 1)
                 AS standing,
               (SELECT v.verdict FROM verdict v WHERE v.lot = l.id ORDER BY v.entry DESC, v.id DESC LIMIT 1)
                 AS verdict
          FROM lot l JOIN delivery d ON d.id = l.delivery) x;
