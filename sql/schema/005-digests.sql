-- Digests of single facts: from here on a journal row covers each fact by a leaf of a tree (docs/book.md, "Digests").

ALTER TABLE journal ADD COLUMN rule BIGINT NOT NULL DEFAULT 1; -- of its digests: 1 one for each table, 2 a tree for each table
ALTER TABLE journal ADD COLUMN salt TEXT NOT NULL DEFAULT ''; -- 32 random bytes, 64 hex digits; '' under rule 1
ALTER TABLE journal ADD COLUMN about TEXT NOT NULL DEFAULT ''; -- keys of the lots it recorded something of, rising, a space between
