-- The first shape of the book.
CREATE TABLE setting (name TEXT NOT NULL PRIMARY KEY);
