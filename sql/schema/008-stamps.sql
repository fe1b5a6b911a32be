-- Time stamps of the journal by authorities outside (docs/proof.md). From here on a journal row covers the facts of each lot by a
-- share as well (docs/book.md, rule 3), which needs no column.

CREATE TABLE time_stamp (
  id     TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 26),
  number BIGINT NOT NULL REFERENCES journal (number), -- the row whose head was stamped
  at     TEXT NOT NULL,                  -- the moment it shows, UTC
  reply  BYTEA NOT NULL,                 -- the authority's answer as it came (RFC 3161, TimeStampResp, DER)
  entry  BIGINT NOT NULL REFERENCES journal (number) DEFERRABLE INITIALLY DEFERRED
);
CREATE INDEX time_stamp_by_number ON time_stamp (number, id);
