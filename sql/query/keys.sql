-- Keys that sign the journal, and their signatures.

-- row:  signing_key (tenterbook/anchor.h): public text, handover text, entry whole
-- row:  signature: number whole, digest text, signature text

-- name: signing_key_all
-- out:  signing_key
-- list: signing_key_list
SELECT public, handover, entry FROM signing_key ORDER BY entry, id;

-- name: signing_key_latest
-- out:  public text
SELECT public FROM signing_key ORDER BY entry DESC, id DESC LIMIT 1;

-- name: signing_key_add
-- in:   $1 id key, $2 public text, $3 handover text, $4 entry entry
-- fact: signing_key
INSERT INTO signing_key (id, public, handover, entry) VALUES ($1, $2, $3, $4);

-- name: signature_all
-- out:  signature
SELECT s.number, j.digest, s.signature FROM signature s JOIN journal j ON j.number = s.number ORDER BY s.number;

-- name: signature_last
-- out:  signature
SELECT s.number, j.digest, s.signature FROM signature s JOIN journal j ON j.number = s.number
 ORDER BY s.number DESC LIMIT 1;

-- name: signature_add
-- in:   $1 number whole, $2 signature text
INSERT INTO signature (number, signature) VALUES ($1, $2);

-- name: signature_of
-- in:   $1 number whole
-- out:  signature text
SELECT signature FROM signature WHERE number = CAST($1 AS BIGINT);

-- Time stamps of journal rows.

-- row:  time_stamp: number whole, at text, reply bytes, entry whole, digest text, said text

-- name: time_stamp_all
-- out:  time_stamp
SELECT t.number, t.at, t.reply, t.entry, j.digest, j.at AS said
  FROM time_stamp t JOIN journal j ON j.number = t.number
 ORDER BY t.number, t.id;

-- name: time_stamp_add
-- in:   $1 id key, $2 number whole, $3 at text, $4 reply bytes, $5 entry entry
-- fact: time_stamp
INSERT INTO time_stamp (id, number, at, reply, entry) VALUES ($1, $2, $3, $4, $5);

-- A row that holds a stamp as a fact cannot have been there before the moment which that one shows.

-- name: time_stamp_held_by
-- in:   $1 number whole
-- out:  at text
SELECT max(at) AS at FROM time_stamp WHERE entry <= CAST($1 AS BIGINT);

-- name: journal_digests
-- out:  journal_head
SELECT number, digest, at FROM journal WHERE digest <> '' ORDER BY number DESC;
