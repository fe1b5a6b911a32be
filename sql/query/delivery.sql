-- Deliveries, lots, bolts, declarations.

-- name: delivery_last_serial
-- in:   $1 site id, $2 year
-- out:  serial whole
SELECT MAX(serial) AS serial FROM delivery WHERE site = $1 AND year = $2;

-- name: delivery_add
-- in:   $1 id, $2 ref, $3 site, $4 year, $5 serial, $6 supplier, $7 note, $8 order_no, $9 note_day, $10 arrived,
--       $11 received_at, $12 received_by, $13 file_name, $14 file_digest, $15 remark, $16 entry
-- fact: delivery
INSERT INTO delivery (id, ref, site, year, serial, supplier, note, order_no, note_day, arrived, received_at,
                      received_by, file_name, file_digest, remark, entry)
VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15, $16);

-- name: delivery_by_ref
-- in:   $1 ref
-- out:  id text, ref text, supplier text, supplier_name text, note text, order_no text, note_day text, arrived text, received_at text, received_by text, file_name text, file_digest text, remark text
SELECT d.id, d.ref, d.supplier, s.name AS supplier_name, d.note, d.order_no, d.note_day, d.arrived, d.received_at,
       p.name AS received_by, d.file_name, d.file_digest, d.remark
  FROM delivery d JOIN supplier s ON s.id = d.supplier JOIN person p ON p.id = d.received_by
 WHERE d.ref = $1;

-- name: delivery_by_digest
-- in:   $1 digest of the file
-- out:  id text, ref text, supplier text, supplier_name text, note text, order_no text, note_day text, arrived text, received_at text, received_by text, file_name text, file_digest text, remark text
SELECT d.id, d.ref, d.supplier, s.name AS supplier_name, d.note, d.order_no, d.note_day, d.arrived, d.received_at,
       p.name AS received_by, d.file_name, d.file_digest, d.remark
  FROM delivery d JOIN supplier s ON s.id = d.supplier JOIN person p ON p.id = d.received_by
 WHERE d.file_digest = $1
 ORDER BY d.entry, d.id LIMIT 1;

-- name: delivery_between
-- in:   $1 first day, $2 first day after
-- out:  id text, ref text, supplier text, supplier_name text, note text, order_no text, note_day text, arrived text, received_at text, received_by text, file_name text, file_digest text, remark text
SELECT d.id, d.ref, d.supplier, s.name AS supplier_name, d.note, d.order_no, d.note_day, d.arrived, d.received_at,
       p.name AS received_by, d.file_name, d.file_digest, d.remark
  FROM delivery d JOIN supplier s ON s.id = d.supplier JOIN person p ON p.id = d.received_by
 WHERE d.arrived >= $1 AND d.arrived < $2
 ORDER BY d.arrived, d.id;

-- name: lot_add
-- in:   $1 id, $2 ref, $3 delivery, $4 serial, $5 article, $6 colour, $7 dye_lot, $8 origin, $9 unit_price,
--       $10 currency, $11 bolts, $12 metres, $13 entry
-- fact: lot
INSERT INTO lot (id, ref, delivery, serial, article, colour, dye_lot, origin, unit_price, currency, bolts, metres,
                 entry)
VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13);

-- name: lot_by_ref
-- in:   $1 ref
-- out:  id text, ref text, delivery text, article text, colour text, dye_lot text, origin text, unit_price number, currency text, bolts whole, metres number, delivery_ref text, arrived text, supplier text, supplier_name text, declared text, reading text, clear whole, doubts text, declaration text, standing text, verdict text, log_ratio number, bolts_burnt whole, burns whole
SELECT id, ref, delivery, article, colour, dye_lot, origin, unit_price, currency, bolts, metres, delivery_ref,
       arrived, supplier, supplier_name, declared, reading, clear, doubts, declaration, standing, verdict,
       log_ratio, bolts_burnt, burns
  FROM lot_now WHERE ref = $1;

-- name: lot_where
-- in:   $1 first day or NULL, $2 first day after or NULL, $3 supplier id or NULL, $4 standing or NULL,
--       $5 delivery id or NULL
-- out:  id text, ref text, delivery text, article text, colour text, dye_lot text, origin text, unit_price number, currency text, bolts whole, metres number, delivery_ref text, arrived text, supplier text, supplier_name text, declared text, reading text, clear whole, doubts text, declaration text, standing text, verdict text, log_ratio number, bolts_burnt whole, burns whole
SELECT id, ref, delivery, article, colour, dye_lot, origin, unit_price, currency, bolts, metres, delivery_ref,
       arrived, supplier, supplier_name, declared, reading, clear, doubts, declaration, standing, verdict,
       log_ratio, bolts_burnt, burns
  FROM lot_now
 WHERE (CAST($1 AS TEXT) IS NULL OR arrived >= CAST($1 AS TEXT))
   AND (CAST($2 AS TEXT) IS NULL OR arrived < CAST($2 AS TEXT))
   AND (CAST($3 AS TEXT) IS NULL OR supplier = CAST($3 AS TEXT))
   AND (CAST($4 AS TEXT) IS NULL OR standing = CAST($4 AS TEXT))
   AND (CAST($5 AS TEXT) IS NULL OR delivery = CAST($5 AS TEXT))
 ORDER BY arrived, delivery, serial;

-- name: lot_refs_by_bolt
-- in:   $1 bolt number
-- out:  ref text
SELECT DISTINCT l.ref FROM bolt b JOIN lot l ON l.id = b.lot WHERE b.number = $1 ORDER BY l.ref LIMIT 20;

-- name: declaration_add
-- in:   $1 id, $2 lot, $3 text, $4 reading, $5 clear, $6 doubts, $7 origin, $8 replaces or NULL, $9 entry
-- fact: declaration
INSERT INTO declaration (id, lot, text, reading, clear, doubts, origin, replaces, entry)
VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9);

-- name: declaration_of_lot
-- in:   $1 lot id, $2 the last journal row that counts
-- out:  id text, text text
SELECT id, text FROM declaration
 WHERE lot = $1 AND entry <= CAST($2 AS BIGINT)
 ORDER BY entry DESC, id DESC LIMIT 1;

-- name: declaration_history
-- in:   $1 lot id
-- out:  id text, text text, reading text, doubts text, origin text, replaces text, clear whole, at text, person text
SELECT c.id, c.text, c.reading, c.doubts, c.origin, c.replaces, c.clear, j.at, j.person
  FROM declaration c JOIN journal j ON j.number = c.entry
 WHERE c.lot = $1
 ORDER BY c.entry, c.id;

-- name: bolt_add
-- in:   $1 id, $2 lot, $3 number, $4 metres, $5 width_cm or NULL, $6 mass_gm2 or NULL, $7 said, $8 entry
-- fact: bolt
INSERT INTO bolt (id, lot, number, metres, width_cm, mass_gm2, said, entry)
VALUES ($1, $2, $3, $4, $5, $6, $7, $8);

-- name: bolt_rough_count
-- out:  bolts whole
SELECT SUM(bolts) AS bolts FROM lot;

-- name: bolt_number_index_drop
DROP INDEX IF EXISTS bolt_by_number;

-- name: bolt_number_index_make
CREATE INDEX IF NOT EXISTS bolt_by_number ON bolt (number);

-- name: bolt_of_lot
-- in:   $1 lot id
-- out:  id text, lot text, number text, metres number, width_cm number, mass_gm2 number, said text, lot_ref text
SELECT b.id, b.lot, b.number, b.metres, b.width_cm, b.mass_gm2, b.said, l.ref AS lot_ref
  FROM bolt b JOIN lot l ON l.id = b.lot
 WHERE b.lot = $1
 ORDER BY b.id;

-- name: bolt_by_lot_and_number
-- in:   $1 lot id, $2 number
-- out:  id text, lot text, number text, metres number, width_cm number, mass_gm2 number, said text, lot_ref text
SELECT b.id, b.lot, b.number, b.metres, b.width_cm, b.mass_gm2, b.said, l.ref AS lot_ref
  FROM bolt b JOIN lot l ON l.id = b.lot
 WHERE b.lot = $1 AND b.number = $2
 ORDER BY b.id LIMIT 1;
