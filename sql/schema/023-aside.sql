-- What is for the house alone stands beside what a case tells: of a journal row, and of a label of our own.

-- JSON, or '' where there is nothing; the content of the row has its digest (docs/book.md).
ALTER TABLE journal ADD COLUMN aside TEXT NOT NULL DEFAULT '';

-- What the label said, what it says, and whose goods they are. Older programs wrote it into the standing.
CREATE TABLE standing_label (
  id       TEXT NOT NULL PRIMARY KEY CHECK (length(id) = 26),
  standing TEXT NOT NULL UNIQUE REFERENCES standing (id),
  old_words TEXT NOT NULL,
  new_words TEXT NOT NULL,
  goods_of TEXT NOT NULL,
  entry    BIGINT NOT NULL REFERENCES journal (number) DEFERRABLE INITIALLY DEFERRED
);
