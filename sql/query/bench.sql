-- What happens at the bench: swatches, burns, cues, bench tests, attachments.

-- The lot and the bolt of a swatch are asked for row by row: an outer join with their views would read every bolt of the book first.

-- row:  swatch (tenterbook/bench.h): id text, tag text, lot text or NULL, bolt text or NULL, serial whole, part part,
--       known text, kept text, cut_at text, cut_by text, lot_ref text, bolt_number text
-- row:  burn (tenterbook/bench.h): id text, swatch text, looked text, burned_at text, burned_by text,
--       recorded_at text, flame text, note text, replaces text or NULL, at_hand text, dead_at text or NULL, tag text,
--       part part, bolt_number text, known text, lot text or NULL, sample_mm number or NULL
-- row:  cue_seen (tenterbook/bench.h): cue text, seen flag
-- row:  bench_test (tenterbook/bench.h): id text, swatch text, test text, result text, tested_at text, tested_by text,
--       note text, replaces text or NULL, tag text, part part, bolt_number text
-- row:  record_end: ends whole, voids whole
-- row:  test_corrected: swatch text, tag text, ends whole, voids whole
-- row:  attachment (tenterbook/bench.h): id text, about text, subject text, name text, media text, sha256 text,
--       size size, kept_at text, kept_by text

-- name: swatch_next_serial
-- in:   $1 lot text or NULL (NULL: known cloth)
-- out:  serial whole
SELECT COALESCE(MAX(serial), 0) + 1 AS serial FROM swatch WHERE lot IS NOT DISTINCT FROM CAST($1 AS TEXT);

-- name: swatch_add
-- in:   $1 id text, $2 tag text, $3 lot text or NULL, $4 bolt text or NULL, $5 serial whole, $6 part part,
--       $7 known text or '', $8 kept text or '', $9 cut_at text, $10 cut_by person, $11 entry entry
-- from: swatch
-- fact: swatch
INSERT INTO swatch (id, tag, lot, bolt, serial, part, known, kept, cut_at, cut_by, entry)
VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11);

-- name: swatch_tags_of_bolt
-- in:   $1 number text (of a bolt)
-- out:  tag text
SELECT w.tag FROM swatch_now w JOIN bolt_now b ON b.id = w.bolt WHERE b.number = $1 ORDER BY w.tag LIMIT 10;

-- name: swatch_waiting_of_bolt
-- in:   $1 bolt text, $2 part part
-- out:  tag text
-- Swatches of this part of the bolt that nobody burned or tested, and that lie at no laboratory and in no joint sample.
SELECT w.tag FROM swatch_now w
 WHERE w.bolt = $1 AND w.part = $2
   AND NOT EXISTS (SELECT 1 FROM burn_now n WHERE n.swatch = w.id)
   AND NOT EXISTS (SELECT 1 FROM bench_test_now n WHERE n.swatch = w.id)
   AND NOT EXISTS (SELECT 1 FROM joint_piece i WHERE i.swatch = w.id)
   AND NOT EXISTS (SELECT 1 FROM sending_piece i JOIN sending_now n ON n.id = i.sending WHERE i.swatch = w.id)
 ORDER BY w.serial;

-- name: swatch_by_tag
-- in:   $1 tag text
-- out:  swatch
SELECT w.id, w.tag, w.lot, w.bolt, w.serial, w.part, w.known, w.kept, w.cut_at, p.name AS cut_by,
       COALESCE((SELECT l.ref FROM lot_goods l WHERE l.id = w.lot), '') AS lot_ref,
       COALESCE((SELECT b.number FROM bolt_now b WHERE b.id = w.bolt), '') AS bolt_number
  FROM swatch_now w JOIN person p ON p.id = w.cut_by
 WHERE w.tag = $1;

-- name: swatch_ever
-- in:   $1 tag text
-- out:  swatch
-- find: swatch_ever
-- Void or not.
SELECT w.id, w.tag, w.lot, w.bolt, w.serial, w.part, w.known, w.kept, w.cut_at, p.name AS cut_by,
       COALESCE(l.ref, '') AS lot_ref, COALESCE(b.number, '') AS bolt_number
  FROM swatch w JOIN person p ON p.id = w.cut_by
  LEFT JOIN lot l ON l.id = w.lot LEFT JOIN bolt b ON b.id = w.bolt
 WHERE w.tag = $1;

-- name: swatch_of_lot
-- in:   $1 lot text or NULL (NULL: known cloth)
-- out:  swatch
-- list: swatch_list
SELECT w.id, w.tag, w.lot, w.bolt, w.serial, w.part, w.known, w.kept, w.cut_at, p.name AS cut_by,
       COALESCE((SELECT l.ref FROM lot_goods l WHERE l.id = w.lot), '') AS lot_ref,
       COALESCE((SELECT b.number FROM bolt_now b WHERE b.id = w.bolt), '') AS bolt_number
  FROM swatch_now w JOIN person p ON p.id = w.cut_by
 WHERE w.lot IS NOT DISTINCT FROM CAST($1 AS TEXT)
 ORDER BY w.serial;

-- Those that are void among them: what was burned of one is a record all the same.
-- name: swatch_of_lot_ever
-- in:   $1 lot text or NULL (NULL: known cloth)
-- out:  swatch
-- list: swatch_ever_list
SELECT w.id, w.tag, w.lot, w.bolt, w.serial, w.part, w.known, w.kept, w.cut_at, p.name AS cut_by,
       COALESCE(l.ref, '') AS lot_ref, COALESCE(b.number, '') AS bolt_number
  FROM swatch w JOIN person p ON p.id = w.cut_by
  LEFT JOIN lot l ON l.id = w.lot LEFT JOIN bolt b ON b.id = w.bolt
 WHERE w.lot IS NOT DISTINCT FROM CAST($1 AS TEXT)
 ORDER BY w.serial;

-- name: burn_add
-- in:   $1 id text, $2 swatch text, $3 looked text, $4 burned_at text, $5 burned_by text, $6 recorded_at text,
--       $7 flame text or '', $8 sample_mm number or NULL, $9 at_hand text or '', $10 dead_at text or NULL,
--       $11 note text or '', $12 replaces text or NULL, $13 entry entry
-- from: burn
-- fact: burn
INSERT INTO burn (id, swatch, looked, burned_at, burned_by, recorded_at, flame, sample_mm, at_hand, dead_at, note,
                  replaces, entry)
VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13);

-- name: burn_ends
-- in:   $1 burn text
-- out:  record_end
SELECT (SELECT COUNT(*) FROM burn_end e WHERE e.burn = $1 AND e.until IS NULL) AS ends,
       (SELECT COUNT(*) FROM burn_void e WHERE e.burn = $1 AND e.until IS NULL) AS voids;

-- name: burn_at
-- in:   $1 bolt text, $2 part part, $3 burned_at text
-- out:  burns whole
SELECT COUNT(*) AS burns FROM burn_now b JOIN swatch_now w ON w.id = b.swatch
 WHERE w.bolt = $1 AND w.part = $2 AND b.burned_at = $3;

-- name: burn_of_lot
-- in:   $1 lot text or NULL (NULL: known cloth), $2 upto whole (the last journal row that counts)
-- out:  burn
SELECT b.id, b.swatch, b.looked, b.burned_at, p.name AS burned_by, b.recorded_at, b.flame, b.note, b.replaces,
       b.at_hand, b.dead_at, w.tag, w.part, COALESCE(o.number, '') AS bolt_number, w.known, w.lot, b.sample_mm
  FROM burn b JOIN swatch w ON w.id = b.swatch JOIN person p ON p.id = b.burned_by
  LEFT JOIN bolt o ON o.id = w.bolt
 WHERE w.lot IS NOT DISTINCT FROM CAST($1 AS TEXT)
   AND b.entry <= CAST($2 AS BIGINT)
   AND NOT EXISTS (SELECT 1 FROM burn_end e
                    WHERE e.burn = b.id AND e.since <= CAST($2 AS BIGINT)
                      AND (e.until IS NULL OR e.until > CAST($2 AS BIGINT)))
 ORDER BY b.entry, b.id;

-- name: burn_corrected
-- in:   $1 lot text or NULL (NULL: known cloth)
-- out:  burn
SELECT b.id, b.swatch, b.looked, b.burned_at, p.name AS burned_by, b.recorded_at, b.flame, b.note, b.replaces,
       b.at_hand, b.dead_at, w.tag, w.part, COALESCE(o.number, '') AS bolt_number, w.known, w.lot, b.sample_mm
  FROM burn b JOIN swatch w ON w.id = b.swatch JOIN person p ON p.id = b.burned_by
  LEFT JOIN bolt o ON o.id = w.bolt
 WHERE w.lot IS NOT DISTINCT FROM CAST($1 AS TEXT)
   AND EXISTS (SELECT 1 FROM burn_end e WHERE e.burn = b.id AND e.until IS NULL)
   AND NOT EXISTS (SELECT 1 FROM burn_void e WHERE e.burn = b.id AND e.until IS NULL)
 ORDER BY b.entry, b.id;

-- name: burn_voided
-- in:   $1 lot text or NULL (NULL: known cloth)
-- out:  burn
SELECT b.id, b.swatch, b.looked, b.burned_at, p.name AS burned_by, b.recorded_at, b.flame, b.note, b.replaces,
       b.at_hand, b.dead_at, w.tag, w.part, COALESCE(o.number, '') AS bolt_number, w.known, w.lot, b.sample_mm
  FROM burn b JOIN swatch w ON w.id = b.swatch JOIN person p ON p.id = b.burned_by
  LEFT JOIN bolt o ON o.id = w.bolt
 WHERE w.lot IS NOT DISTINCT FROM CAST($1 AS TEXT)
   AND EXISTS (SELECT 1 FROM burn_void e WHERE e.burn = b.id AND e.until IS NULL)
 ORDER BY b.entry, b.id;

-- name: burn_by_id
-- in:   $1 id text
-- out:  burn
SELECT b.id, b.swatch, b.looked, b.burned_at, p.name AS burned_by, b.recorded_at, b.flame, b.note, b.replaces,
       b.at_hand, b.dead_at, w.tag, w.part, COALESCE(o.number, '') AS bolt_number, w.known, w.lot, b.sample_mm
  FROM burn b JOIN swatch w ON w.id = b.swatch JOIN person p ON p.id = b.burned_by
  LEFT JOIN bolt o ON o.id = w.bolt
 WHERE b.id = $1;

-- name: burn_latest_by
-- in:   $1 name text
-- out:  burn
-- The burn that this person recorded last, of those that count.
SELECT b.id, b.swatch, b.looked, b.burned_at, p.name AS burned_by, b.recorded_at, b.flame, b.note, b.replaces,
       b.at_hand, b.dead_at, w.tag, w.part,
       COALESCE((SELECT o.number FROM bolt_now o WHERE o.id = w.bolt), '') AS bolt_number, w.known, w.lot, b.sample_mm
  FROM burn_now b JOIN swatch_now w ON w.id = b.swatch JOIN person p ON p.id = b.burned_by
 WHERE p.name = $1
 ORDER BY b.entry DESC, b.id DESC
 LIMIT 1;

-- The last burn of a swatch that this person recorded, of those that count.
-- name: burn_of_swatch_by
-- in:   $1 swatch text, $2 name text
-- out:  id text
SELECT b.id FROM burn_now b JOIN person p ON p.id = b.burned_by
 WHERE b.swatch = $1 AND p.name = $2
 ORDER BY b.entry DESC, b.id DESC
 LIMIT 1;

-- Whether nothing was recorded by this person since that burn was.
-- name: burn_is_newest
-- in:   $1 id text, $2 person text
-- out:  newest whole
SELECT CASE WHEN b.entry >= COALESCE((SELECT j.number FROM journal j WHERE j.person = $2 AND j.digest <> ''
                                       ORDER BY j.number DESC LIMIT 1), 0) THEN 1 ELSE 0 END AS newest
  FROM burn_now b WHERE b.id = $1;

-- name: cue_seen_add
-- in:   $1 id key, $2 burn text, $3 cue text, $4 seen flag, $5 entry entry
-- fact: cue_seen
INSERT INTO cue_seen (id, burn, cue, seen, entry) VALUES ($1, $2, $3, $4, $5);

-- name: cue_seen_of_burn
-- in:   $1 burn text
-- out:  cue_seen
SELECT cue, seen FROM cue_seen WHERE burn = $1 ORDER BY id;

-- name: bench_test_add
-- in:   $1 id text, $2 swatch text, $3 test text, $4 result text, $5 tested_at text, $6 tested_by text,
--       $7 note text or '', $8 replaces text or NULL, $9 entry entry
-- from: bench_test
-- fact: bench_test
INSERT INTO bench_test (id, swatch, test, result, tested_at, tested_by, note, replaces, entry)
VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9);

-- Void or not.
-- name: bench_test_by_id
-- in:   $1 id text
-- out:  bench_test
SELECT t.id, t.swatch, t.test, t.result, t.tested_at, p.name AS tested_by, t.note, t.replaces, w.tag, w.part,
       COALESCE(o.number, '') AS bolt_number
  FROM bench_test t JOIN swatch w ON w.id = t.swatch JOIN person p ON p.id = t.tested_by
  LEFT JOIN bolt o ON o.id = w.bolt
 WHERE t.id = $1;

-- name: bench_test_replaced
-- in:   $1 id text
-- out:  test_corrected
SELECT t.swatch, w.tag, (SELECT COUNT(*) FROM bench_test_end e WHERE e.test = t.id AND e.until IS NULL) AS ends,
       (SELECT COUNT(*) FROM bench_test_void e WHERE e.test = t.id AND e.until IS NULL) AS voids
  FROM bench_test t JOIN swatch w ON w.id = t.swatch
 WHERE t.id = $1;

-- name: bench_test_of_lot
-- in:   $1 lot text or NULL (NULL: known cloth), $2 upto whole (the last journal row that counts)
-- out:  bench_test
-- list: bench_test_list_upto
SELECT t.id, t.swatch, t.test, t.result, t.tested_at, p.name AS tested_by, t.note, t.replaces, w.tag, w.part,
       COALESCE(o.number, '') AS bolt_number
  FROM bench_test t JOIN swatch w ON w.id = t.swatch JOIN person p ON p.id = t.tested_by
  LEFT JOIN bolt o ON o.id = w.bolt
 WHERE w.lot IS NOT DISTINCT FROM CAST($1 AS TEXT)
   AND t.entry <= CAST($2 AS BIGINT)
   AND NOT EXISTS (SELECT 1 FROM bench_test_end e
                    WHERE e.test = t.id AND e.since <= CAST($2 AS BIGINT)
                      AND (e.until IS NULL OR e.until > CAST($2 AS BIGINT)))
 ORDER BY t.entry, t.id;

-- name: bench_test_corrected
-- in:   $1 lot text or NULL (NULL: known cloth)
-- out:  bench_test
-- list: bench_test_corrected_list
SELECT t.id, t.swatch, t.test, t.result, t.tested_at, p.name AS tested_by, t.note, t.replaces, w.tag, w.part,
       COALESCE(o.number, '') AS bolt_number
  FROM bench_test t JOIN swatch w ON w.id = t.swatch JOIN person p ON p.id = t.tested_by
  LEFT JOIN bolt o ON o.id = w.bolt
 WHERE w.lot IS NOT DISTINCT FROM CAST($1 AS TEXT)
   AND EXISTS (SELECT 1 FROM bench_test_end e WHERE e.test = t.id AND e.until IS NULL)
   AND NOT EXISTS (SELECT 1 FROM bench_test_void e WHERE e.test = t.id AND e.until IS NULL)
 ORDER BY t.entry, t.id;

-- name: bench_test_voided
-- in:   $1 lot text or NULL (NULL: known cloth)
-- out:  bench_test
-- list: bench_test_voided_list
SELECT t.id, t.swatch, t.test, t.result, t.tested_at, p.name AS tested_by, t.note, t.replaces, w.tag, w.part,
       COALESCE(o.number, '') AS bolt_number
  FROM bench_test t JOIN swatch w ON w.id = t.swatch JOIN person p ON p.id = t.tested_by
  LEFT JOIN bolt o ON o.id = w.bolt
 WHERE w.lot IS NOT DISTINCT FROM CAST($1 AS TEXT)
   AND EXISTS (SELECT 1 FROM bench_test_void e WHERE e.test = t.id AND e.until IS NULL)
 ORDER BY t.entry, t.id;

-- name: attachment_add
-- in:   $1 id text, $2 about text, $3 subject text, $4 name text, $5 media text, $6 sha256 text, $7 bytes bytes,
--       $8 entry entry
-- from: attachment
-- fact: attachment
INSERT INTO attachment (id, about, subject, name, media, sha256, bytes, entry)
VALUES ($1, $2, $3, $4, $5, $6, $7, $8);

-- When it was kept, and by whom, says its journal row: it may come days after what it shows.

-- name: attachment_of_subject
-- in:   $1 subject text
-- out:  attachment
-- list: attachment_list
SELECT a.id, a.about, a.subject, a.name, a.media, a.sha256, length(a.bytes) AS size, j.at AS kept_at, j.person AS kept_by
  FROM attachment a JOIN journal j ON j.number = a.entry
 WHERE a.subject = $1
 ORDER BY a.entry, a.id;

-- Photographs of the swatches of a lot (NULL: of known cloth) and of their burns.
-- name: photographs_of_lot
-- in:   $1 lot text or NULL
-- out:  attachment
-- list: photograph_list
SELECT a.id, a.about, a.subject, a.name, a.media, a.sha256, length(a.bytes) AS size, j.at AS kept_at, j.person AS kept_by
  FROM attachment a JOIN journal j ON j.number = a.entry
 WHERE a.subject IN (SELECT w.id FROM swatch w WHERE w.lot IS NOT DISTINCT FROM CAST($1 AS TEXT)
                   UNION ALL
                   SELECT b.id FROM burn b JOIN swatch w ON w.id = b.swatch
                    WHERE w.lot IS NOT DISTINCT FROM CAST($1 AS TEXT))
 ORDER BY a.entry, a.id;

-- name: attachment_by_id
-- in:   $1 id text
-- out:  attachment
SELECT a.id, a.about, a.subject, a.name, a.media, a.sha256, length(a.bytes) AS size, j.at AS kept_at, j.person AS kept_by
  FROM attachment a JOIN journal j ON j.number = a.entry
 WHERE a.id = $1;

-- name: attachment_bytes
-- in:   $1 id text
-- out:  bytes bytes
SELECT bytes FROM attachment WHERE id = $1;
