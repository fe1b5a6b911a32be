-- Keys that sign the journal, and what they signed (docs/proof.md).

CREATE TABLE signing_key (
  id       TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 26),
  public   TEXT NOT NULL CHECK (length(public) = 64), -- Ed25519, 64 hex digits; the latest one counts
  handover TEXT NOT NULL,                -- the key before it vouches for it: 128 hex digits; '' the first, or that one was not at hand
  entry    BIGINT NOT NULL REFERENCES journal (number) DEFERRABLE INITIALLY DEFERRED
);

-- No fact, since it is about a journal row that is whole already. A row without one was written where the key was not at hand.
CREATE TABLE signature (
  number   BIGINT NOT NULL PRIMARY KEY REFERENCES journal (number),
  signature TEXT NOT NULL                -- of number and digest, by the key that counted then; 128 hex digits
);
