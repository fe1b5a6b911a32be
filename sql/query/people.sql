-- Sites, people, suppliers, settings.

-- row:  site (tenterbook/book.h): id text, code text, name text, country text
-- row:  person (tenterbook/named.h): id text, name text
-- row:  supplier (tenterbook/goods.h): id text, name text
-- row:  setting (tenterbook/book.h): name text, value text
-- row:  setting_was (tenterbook/book.h): value text, at text
-- row:  address (tenterbook/address.h): id text, supplier text or NULL, supplier_name text or NULL, name text, street text,
--       postcode text, place text, country text, contact text, email text, phone text, registration text, language text,
--       set_at text, set_by text

-- name: site_first
-- out:  site
SELECT id, code, name, country FROM site ORDER BY entry, id LIMIT 1;

-- name: site_add
-- in:   $1 id text, $2 code text, $3 name text, $4 country text, $5 entry entry
-- from: site
-- fact: site
INSERT INTO site (id, code, name, country, entry) VALUES ($1, $2, $3, $4, $5);

-- name: person_by_name
-- in:   $1 name text
-- out:  person
SELECT id, name FROM person WHERE name = $1;

-- name: people
-- out:  person
SELECT id, name FROM person ORDER BY entry, id;

-- name: person_add
-- in:   $1 id text, $2 name text, $3 entry entry
-- fact: person
INSERT INTO person (id, name, entry) VALUES ($1, $2, $3);

-- name: supplier_by_folded
-- in:   $1 folded text
-- out:  supplier
SELECT m.id, m.name FROM supplier_now s JOIN supplier m ON m.id = s.same_as WHERE s.folded = $1;

-- name: supplier_as_written
-- in:   $1 folded text
-- out:  supplier
SELECT s.id, s.name FROM supplier s WHERE s.folded = $1;

-- name: supplier_all
-- out:  supplier
-- list: supplier_list
SELECT s.id, s.name FROM supplier s ORDER BY s.name, s.id;

-- name: supplier_names
-- in:   $1 supplier text
-- out:  id text
-- list: supplier_names
SELECT s.id FROM supplier_now s WHERE s.same_as = $1 ORDER BY s.id;

-- name: supplier_joined
-- in:   $1 supplier text
-- out:  name text
-- list: supplier_joined
-- The other names that are the same as this supplier.
SELECT m.name FROM supplier_now s JOIN supplier m ON m.id = s.id WHERE s.same_as = $1 AND s.id <> $1 ORDER BY m.name, m.id;

-- name: supplier_add
-- in:   $1 id text, $2 name text, $3 folded text, $4 entry entry
-- fact: supplier
INSERT INTO supplier (id, name, folded, entry) VALUES ($1, $2, $3, $4);

-- name: setting_latest
-- in:   $1 name text, $2 upto whole (the last journal row that counts)
-- out:  value text
SELECT value FROM setting WHERE name = $1 AND entry <= CAST($2 AS BIGINT) ORDER BY entry DESC, id DESC LIMIT 1;

-- name: setting_history
-- in:   $1 name text
-- out:  setting_was
-- list: setting_history
SELECT s.value, j.at FROM setting s JOIN journal j ON j.number = s.entry
 WHERE s.name = $1 ORDER BY s.entry, s.id;

-- name: setting_prefixed
-- in:   $1 name text (its beginning; '': all)
-- out:  setting
-- list: setting_list
SELECT s.name, s.value
  FROM setting s
 WHERE substr(s.name, 1, length(CAST($1 AS TEXT))) = CAST($1 AS TEXT)
   AND s.id = (SELECT x.id FROM setting x WHERE x.name = s.name ORDER BY x.entry DESC, x.id DESC LIMIT 1)
 ORDER BY s.name;

-- name: setting_add
-- in:   $1 id key, $2 name text, $3 value text, $4 entry entry
-- fact: setting
INSERT INTO setting (id, name, value, entry) VALUES ($1, $2, $3, $4);

-- name: address_add
-- in:   $1 id text, $2 supplier text or NULL, $3 name text or '', $4 street text or '', $5 postcode text or '',
--       $6 place text or '', $7 country text or '', $8 contact text or '', $9 email text or '', $10 phone text or '',
--       $11 registration text or '', $12 language text or '', $13 set_at text, $14 set_by person, $15 entry entry
-- from: address
-- fact: address
INSERT INTO address (id, supplier, name, street, postcode, place, country, contact, email, phone, registration,
                     language, set_at, set_by, entry)
VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15);

-- The one set for the name itself, as terms are.
-- name: address_of_supplier
-- in:   $1 supplier text
-- out:  address
SELECT a.id, a.supplier, s.name AS supplier_name, a.name, a.street, a.postcode, a.place, a.country, a.contact, a.email,
       a.phone, a.registration, a.language, a.set_at, p.name AS set_by
  FROM address a JOIN person p ON p.id = a.set_by JOIN supplier s ON s.id = a.supplier
 WHERE a.supplier = $1
 ORDER BY a.entry DESC, a.id DESC LIMIT 1;

-- name: address_of_site
-- out:  address
SELECT a.id, a.supplier, NULL AS supplier_name, a.name, a.street, a.postcode, a.place, a.country, a.contact, a.email,
       a.phone, a.registration, a.language, a.set_at, p.name AS set_by
  FROM address a JOIN person p ON p.id = a.set_by
 WHERE a.supplier IS NULL
 ORDER BY a.entry DESC, a.id DESC LIMIT 1;

-- name: address_all
-- out:  address
-- list: address_list
SELECT a.id, a.supplier, s.name AS supplier_name, a.name, a.street, a.postcode, a.place, a.country, a.contact, a.email,
       a.phone, a.registration, a.language, a.set_at, p.name AS set_by
  FROM address a JOIN person p ON p.id = a.set_by LEFT JOIN supplier s ON s.id = a.supplier
 WHERE NOT EXISTS (SELECT 1 FROM address r
                    WHERE r.supplier IS NOT DISTINCT FROM a.supplier
                      AND (r.entry > a.entry OR (r.entry = a.entry AND r.id > a.id)))
   AND NOT EXISTS (SELECT 1 FROM supplier_now x WHERE x.id = a.supplier AND x.same_as <> x.id)
 ORDER BY CASE WHEN a.supplier IS NULL THEN 0 ELSE 1 END, s.name, a.id;
