-- How to write to a supplier, and what stands above a letter of ours.

CREATE TABLE address (
  id       TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 26),
  supplier TEXT REFERENCES supplier (id), -- NULL: the site itself
  name     TEXT NOT NULL,                -- as a letter has it; '' as the book calls them
  street   TEXT NOT NULL,                -- the lines above the place, each ended by the next one's line break
  postcode TEXT NOT NULL,
  place    TEXT NOT NULL,
  country  TEXT NOT NULL,                -- ISO 3166-1 alpha-2; '' not said
  contact  TEXT NOT NULL,                -- the person letters go to, or come from
  email    TEXT NOT NULL,
  phone    TEXT NOT NULL,
  registration TEXT NOT NULL,            -- number in a register, for taxes ... as it is to be printed
  language TEXT NOT NULL,                -- of papers for them: en, de ...; '' not said
  set_at   TEXT NOT NULL,
  set_by   TEXT NOT NULL REFERENCES person (id),
  entry    BIGINT NOT NULL REFERENCES journal (number) DEFERRABLE INITIALLY DEFERRED
);
CREATE INDEX address_by_supplier ON address (supplier, entry, id);
