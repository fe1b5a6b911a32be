-- What happens at the bench: swatches, burns, cues, bench tests, attachments.

-- name: swatch_last_serial
-- in:   $1 lot id or NULL for known cloth
-- out:  serial whole
SELECT MAX(serial) AS serial FROM swatch WHERE lot IS NOT DISTINCT FROM CAST($1 AS TEXT);

-- name: swatch_add
-- in:   $1 id, $2 tag, $3 lot or NULL, $4 bolt or NULL, $5 serial, $6 part, $7 known, $8 kept, $9 cut_at,
--       $10 cut_by, $11 entry
-- fact: swatch
INSERT INTO swatch (id, tag, lot, bolt, serial, part, known, kept, cut_at, cut_by, entry)
VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11);

-- name: swatch_by_tag
-- in:   $1 tag
-- out:  id text, tag text, lot text, bolt text, part text, known text, kept text, cut_at text, cut_by text, lot_ref text, bolt_number text
SELECT w.id, w.tag, w.lot, w.bolt, w.part, w.known, w.kept, w.cut_at, p.name AS cut_by,
       COALESCE(l.ref, '') AS lot_ref, COALESCE(b.number, '') AS bolt_number
  FROM swatch w JOIN person p ON p.id = w.cut_by
  LEFT JOIN lot l ON l.id = w.lot LEFT JOIN bolt b ON b.id = w.bolt
 WHERE w.tag = $1;

-- name: swatch_of_lot
-- in:   $1 lot id or NULL for known cloth
-- out:  id text, tag text, lot text, bolt text, part text, known text, kept text, cut_at text, cut_by text, lot_ref text, bolt_number text
SELECT w.id, w.tag, w.lot, w.bolt, w.part, w.known, w.kept, w.cut_at, p.name AS cut_by,
       COALESCE(l.ref, '') AS lot_ref, COALESCE(b.number, '') AS bolt_number
  FROM swatch w JOIN person p ON p.id = w.cut_by
  LEFT JOIN lot l ON l.id = w.lot LEFT JOIN bolt b ON b.id = w.bolt
 WHERE w.lot IS NOT DISTINCT FROM CAST($1 AS TEXT)
 ORDER BY w.serial;

-- name: burn_add
-- in:   $1 id, $2 swatch, $3 looked, $4 burned_at, $5 burned_by, $6 recorded_at, $7 flame,
--       $8 sample_mm or NULL, $9 at_hand, $10 dead_at or NULL, $11 note, $12 replaces or NULL, $13 entry
-- fact: burn
INSERT INTO burn (id, swatch, looked, burned_at, burned_by, recorded_at, flame, sample_mm, at_hand, dead_at, note,
                  replaces, entry)
VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13);

-- name: burn_is_corrected
-- in:   $1 burn id
-- out:  corrections whole
SELECT COUNT(*) AS corrections FROM burn WHERE replaces = $1;

-- name: burn_at
-- in:   $1 bolt id, $2 part, $3 moment of the burn
-- out:  burns whole
SELECT COUNT(*) AS burns FROM burn_now b JOIN swatch w ON w.id = b.swatch
 WHERE w.bolt = $1 AND w.part = $2 AND b.burned_at = $3;

-- name: burn_of_lot
-- in:   $1 lot id or NULL for known cloth, $2 the last journal row that counts
-- out:  id text, swatch text, looked text, burned_at text, burned_by text, recorded_at text, flame text, note text, replaces text, at_hand text, dead_at text, tag text, part text, bolt_number text, known text, lot text, sample_mm number
SELECT b.id, b.swatch, b.looked, b.burned_at, p.name AS burned_by, b.recorded_at, b.flame, b.note, b.replaces,
       b.at_hand, b.dead_at, w.tag, w.part, COALESCE(o.number, '') AS bolt_number, w.known, w.lot, b.sample_mm
  FROM burn b JOIN swatch w ON w.id = b.swatch JOIN person p ON p.id = b.burned_by
  LEFT JOIN bolt o ON o.id = w.bolt
 WHERE w.lot IS NOT DISTINCT FROM CAST($1 AS TEXT)
   AND b.entry <= CAST($2 AS BIGINT)
   AND NOT EXISTS (SELECT 1 FROM burn r WHERE r.replaces = b.id AND r.entry <= CAST($2 AS BIGINT))
 ORDER BY b.entry, b.id;

-- name: burn_by_id
-- in:   $1 burn id
-- out:  id text, swatch text, looked text, burned_at text, burned_by text, recorded_at text, flame text, note text, replaces text, at_hand text, dead_at text, tag text, part text, bolt_number text, known text, lot text, sample_mm number
SELECT b.id, b.swatch, b.looked, b.burned_at, p.name AS burned_by, b.recorded_at, b.flame, b.note, b.replaces,
       b.at_hand, b.dead_at, w.tag, w.part, COALESCE(o.number, '') AS bolt_number, w.known, w.lot, b.sample_mm
  FROM burn b JOIN swatch w ON w.id = b.swatch JOIN person p ON p.id = b.burned_by
  LEFT JOIN bolt o ON o.id = w.bolt
 WHERE b.id = $1;

-- name: cue_seen_add
-- in:   $1 id, $2 burn, $3 cue, $4 seen, $5 entry
-- fact: cue_seen
INSERT INTO cue_seen (id, burn, cue, seen, entry) VALUES ($1, $2, $3, $4, $5);

-- name: cue_seen_of_burn
-- in:   $1 burn id
-- out:  cue text, seen whole
SELECT cue, seen FROM cue_seen WHERE burn = $1 ORDER BY id;

-- name: bench_test_add
-- in:   $1 id, $2 swatch, $3 test, $4 result, $5 tested_at, $6 tested_by, $7 note, $8 replaces or NULL, $9 entry
-- fact: bench_test
INSERT INTO bench_test (id, swatch, test, result, tested_at, tested_by, note, replaces, entry)
VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9);

-- name: bench_test_replaced
-- in:   $1 bench test id
-- out:  swatch text, tag text, corrections whole
SELECT t.swatch, w.tag, (SELECT COUNT(*) FROM bench_test r WHERE r.replaces = t.id) AS corrections
  FROM bench_test t JOIN swatch w ON w.id = t.swatch
 WHERE t.id = $1;

-- name: bench_test_of_lot
-- in:   $1 lot id or NULL for known cloth, $2 the last journal row that counts
-- out:  id text, swatch text, test text, result text, tested_at text, tested_by text, note text, replaces text, tag text, part text
SELECT t.id, t.swatch, t.test, t.result, t.tested_at, p.name AS tested_by, t.note, t.replaces, w.tag, w.part
  FROM bench_test t JOIN swatch w ON w.id = t.swatch JOIN person p ON p.id = t.tested_by
 WHERE w.lot IS NOT DISTINCT FROM CAST($1 AS TEXT)
   AND t.entry <= CAST($2 AS BIGINT)
   AND NOT EXISTS (SELECT 1 FROM bench_test r WHERE r.replaces = t.id AND r.entry <= CAST($2 AS BIGINT))
 ORDER BY t.entry, t.id;

-- name: attachment_add
-- in:   $1 id, $2 about, $3 subject, $4 name, $5 media, $6 sha256, $7 bytes, $8 entry
-- fact: attachment
INSERT INTO attachment (id, about, subject, name, media, sha256, bytes, entry)
VALUES ($1, $2, $3, $4, $5, $6, $7, $8);

-- name: attachment_of_subject
-- in:   $1 id of what it is about
-- out:  id text, about text, subject text, name text, media text, sha256 text, size whole
SELECT id, about, subject, name, media, sha256, length(bytes) AS size
  FROM attachment WHERE subject = $1 ORDER BY entry, id;

-- name: attachment_by_id
-- in:   $1 id
-- out:  id text, about text, subject text, name text, media text, sha256 text, bytes bytes
SELECT id, about, subject, name, media, sha256, bytes FROM attachment WHERE id = $1;
