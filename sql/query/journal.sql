-- The journal: one row for each time somebody wrote.

-- name: journal_head
-- out:  number whole, digest text
SELECT number, digest FROM journal ORDER BY number DESC LIMIT 1;

-- name: journal_add
-- in:   $1 number, $2 at, $3 person, $4 verb, $5 subject, $6 content, $7 before, $8 digest
INSERT INTO journal (number, at, person, verb, subject, content, before, digest)
VALUES ($1, $2, $3, $4, $5, $6, $7, $8);

-- name: journal_all
-- out:  number whole, at text, person text, verb text, subject text, content text, before text, digest text
SELECT number, at, person, verb, subject, content, before, digest FROM journal ORDER BY number;

-- name: journal_about
-- in:   $1 beginning of the subject, '' all
-- out:  number whole, at text, person text, verb text, subject text, content text, before text, digest text
SELECT number, at, person, verb, subject, content, before, digest
  FROM journal
 WHERE substr(subject, 1, length(CAST($1 AS TEXT))) = CAST($1 AS TEXT)
 ORDER BY number;

-- name: journal_since
-- in:   $1 number of a journal row
-- out:  number whole, at text, person text, verb text, subject text, content text, before text, digest text
SELECT number, at, person, verb, subject, content, before, digest FROM journal
 WHERE number > CAST($1 AS BIGINT) ORDER BY number;
