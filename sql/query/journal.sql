-- The journal: one row for each time somebody wrote.

-- row:  journal_row (tenterbook/book.h): number whole, at text, person text, verb text, subject text, content text,
--       before text, digest text, rule whole, salt text, about text, aside text
-- row:  move_here (tenterbook/book.h): tag text, at text, person text
-- row:  journal_head: number whole, digest text, at text

-- A row without a digest is that of the transaction that is open: it is there first, since every fact names it, and gets
-- what it says of them at the end.

-- name: journal_head
-- out:  journal_head
SELECT number, digest, at FROM journal WHERE digest <> '' ORDER BY number DESC LIMIT 1;

-- name: journal_digest_of
-- in:   $1 number whole
-- out:  digest text
SELECT digest FROM journal WHERE number = CAST($1 AS BIGINT) AND digest <> '';

-- name: journal_aside
-- in:   $1 number whole
-- out:  aside text
SELECT aside FROM journal WHERE number = CAST($1 AS BIGINT);

-- name: journal_add
-- in:   $1 number whole, $2 at text, $3 person text, $4 verb text, $5 subject text, $6 content text, $7 before text,
--       $8 digest text, $9 rule whole, $10 salt text, $11 about text, $12 aside text
-- from: journal_row
INSERT INTO journal (number, at, person, verb, subject, content, before, digest, rule, salt, about, aside)
VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12);

-- name: journal_close
-- in:   $1 number whole, $2 subject text, $3 content text, $4 digest text, $5 about text, $6 aside text
-- from: journal_row
UPDATE journal SET subject = $2, content = $3, digest = $4, about = $5, aside = $6 WHERE number = $1;

-- name: journal_all
-- out:  journal_row
SELECT number, at, person, verb, subject, content, before, digest, rule, salt, about, aside FROM journal WHERE digest <> ''
 ORDER BY number;

-- name: journal_about
-- in:   $1 subject text (its beginning; '': all)
-- out:  journal_row
-- list: journal_list
SELECT number, at, person, verb, subject, content, before, digest, rule, salt, about, aside
  FROM journal
 WHERE substr(subject, 1, length(CAST($1 AS TEXT))) = CAST($1 AS TEXT) AND digest <> ''
 ORDER BY number;

-- Moves of burns and tests to a lot or away from it: their subject may be a record of another one.
-- name: journal_moves
-- in:   $1 lot text
-- out:  journal_row
-- list: journal_moves
SELECT number, at, person, verb, subject, content, before, digest, rule, salt, about, aside
  FROM journal
 WHERE verb = 'move' AND digest <> ''
   AND number IN (SELECT b.entry FROM burn b JOIN swatch w ON w.id = b.swatch WHERE w.lot = $1
                  UNION ALL
                  SELECT t.entry FROM bench_test t JOIN swatch w ON w.id = t.swatch WHERE w.lot = $1
                  UNION ALL
                  SELECT v.entry FROM voiding v WHERE v.lot = $1)
 ORDER BY number;

-- Burns and tests of a lot that count and were recorded by a move, as the journal alone tells it.
-- name: moves_here
-- in:   $1 lot text
-- out:  move_here
-- list: moves_here
SELECT w.tag, j.at, j.person
  FROM burn_now b JOIN swatch_now w ON w.id = b.swatch JOIN journal j ON j.number = b.entry
 WHERE w.lot = $1 AND j.verb = 'move'
UNION ALL
SELECT w.tag, j.at, j.person
  FROM bench_test_now t JOIN swatch_now w ON w.id = t.swatch JOIN journal j ON j.number = t.entry
 WHERE w.lot = $1 AND j.verb = 'move'
 ORDER BY 2, 1;

-- name: journal_since
-- in:   $1 since whole (number of a journal row)
-- out:  journal_row
-- list: journal_since
SELECT number, at, person, verb, subject, content, before, digest, rule, salt, about, aside FROM journal
 WHERE number > CAST($1 AS BIGINT) AND digest <> '' ORDER BY number;

-- The last row before the first that is dated on or after a day: none after it was written before that day.

-- name: journal_before
-- in:   $1 day text
-- out:  number whole
SELECT COALESCE((SELECT MIN(number) FROM journal WHERE at >= $1) - 1, (SELECT MAX(number) FROM journal), 0) AS number;

-- All rows, with any that no transaction ever finished.

-- name: journal_count
-- out:  rows whole
SELECT count(*) AS rows FROM journal;

-- The lot that a journal row is about, by the reference in its subject.

-- name: journal_lot
-- in:   $1 ref text
-- out:  id text
SELECT id FROM lot WHERE ref = $1;

-- The lot of a fact that other facts name. Keys are of one table only.

-- name: owner_of
-- in:   $1 id text
-- out:  lot text
SELECT l.id AS lot FROM lot l WHERE l.id = $1
UNION ALL
SELECT b.lot FROM bolt b WHERE b.id = $1
UNION ALL
SELECT w.lot FROM swatch w WHERE w.id = $1
UNION ALL
SELECT w.lot FROM burn b JOIN swatch w ON w.id = b.swatch WHERE b.id = $1
UNION ALL
SELECT w.lot FROM bench_test t JOIN swatch w ON w.id = t.swatch WHERE t.id = $1
UNION ALL
SELECT d.lot FROM declaration d WHERE d.id = $1
UNION ALL
SELECT s.lot FROM standing s WHERE s.id = $1
UNION ALL
SELECT j.lot FROM joint_sample j WHERE j.id = $1
UNION ALL
SELECT n.lot FROM sending n WHERE n.id = $1;
