-- Sites, people, suppliers, settings.

-- name: site_first
-- out:  id text, code text, name text, country text
SELECT id, code, name, country FROM site ORDER BY entry, id LIMIT 1;

-- name: site_add
-- in:   $1 id, $2 code, $3 name, $4 country, $5 entry
-- fact: site
INSERT INTO site (id, code, name, country, entry) VALUES ($1, $2, $3, $4, $5);

-- name: person_by_name
-- in:   $1 name
-- out:  id text
SELECT id FROM person WHERE name = $1;

-- name: person_add
-- in:   $1 id, $2 name, $3 entry
-- fact: person
INSERT INTO person (id, name, entry) VALUES ($1, $2, $3);

-- name: supplier_by_folded
-- in:   $1 folded name
-- out:  id text, name text
SELECT id, name FROM supplier WHERE folded = $1;

-- name: supplier_all
-- out:  id text, name text
SELECT id, name FROM supplier ORDER BY folded;

-- name: supplier_add
-- in:   $1 id, $2 name, $3 folded, $4 entry
-- fact: supplier
INSERT INTO supplier (id, name, folded, entry) VALUES ($1, $2, $3, $4);

-- name: setting_latest
-- in:   $1 name, $2 the last journal row that counts
-- out:  value text
SELECT value FROM setting WHERE name = $1 AND entry <= CAST($2 AS BIGINT) ORDER BY entry DESC, id DESC LIMIT 1;

-- name: setting_prefixed
-- in:   $1 beginning of the name, '' all
-- out:  name text, value text
SELECT s.name, s.value
  FROM setting s
 WHERE substr(s.name, 1, length(CAST($1 AS TEXT))) = CAST($1 AS TEXT)
   AND s.id = (SELECT x.id FROM setting x WHERE x.name = s.name ORDER BY x.entry DESC, x.id DESC LIMIT 1)
 ORDER BY s.name;

-- name: setting_add
-- in:   $1 id, $2 name, $3 value, $4 entry
-- fact: setting
INSERT INTO setting (id, name, value, entry) VALUES ($1, $2, $3, $4);
