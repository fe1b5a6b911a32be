-- Deliveries, lots, bolts, declarations.

-- row:  delivery (tenterbook/goods.h): id text, ref text, year whole, serial whole, supplier text, supplier_name text,
--       note text, order_no text, note_day text or NULL, arrived text, received_at text, received_by text,
--       file_name text, file_digest text, remark text, written_as text
-- row:  lot (tenterbook/goods.h): id text, ref text, delivery text, serial whole, article text, colour text,
--       dye_lot text, origin text, unit_price number or NULL, currency text, bolts whole,
--       metres number or NULL, kg number or NULL, derived whole, unknown whole, delivery_ref text, arrived text, supplier text, supplier_name text, declared text, reading text, clear flag,
--       doubts text, declaration text or NULL, standing standing, verdict verdict, log_ratio number or NULL,
--       bolts_burnt whole, burns whole, bolts_tested whole, tests whole, voided flag, released_in_part whole,
--       returned_in_part whole, held_in_part whole, own_words flag, judged text or NULL, judged_at text or NULL,
--       grade text, lowest number or NULL, highest number or NULL, one_look flag, against text, analyses whole,
--       untested flag, at_odds flag, seen text or NULL, weight_kg number or NULL, weighed whole
-- row:  singles: singles whole, released whole, returned whole
-- row:  delivery_goods (tenterbook/goods.h): lots whole, bolts whole, metres number, unknown whole
-- row:  invoiced (tenterbook/goods.h): price number or NULL, unit text, unit_metres number or NULL, currency text
-- row:  declared (tenterbook/goods.h): id text, text text, reading text, doubts text, origin origin,
--       replaces text or NULL, clear flag, at text, person text, why text
-- row:  bolt (tenterbook/goods.h): id text, lot text, number text, metres number or NULL, width_cm number or NULL,
--       mass_gm2 number or NULL, said text, kg number or NULL, derived flag, lot_ref text, weight_kg number or NULL
-- row:  delivery_note (tenterbook/goods.h): ref text, note text, note_day text or NULL

-- name: delivery_next_serial
-- in:   $1 site text, $2 year whole
-- out:  serial whole
SELECT COALESCE(MAX(serial), 0) + 1 AS serial FROM delivery WHERE site = $1 AND year = $2;

-- name: delivery_add
-- in:   $1 id text, $2 ref text, $3 site site, $4 year whole, $5 serial whole, $6 supplier text, $7 note text or '',
--       $8 order_no text or '', $9 note_day text or NULL, $10 arrived text, $11 received_at now,
--       $12 received_by person, $13 file_name text or '', $14 file_digest text or '', $15 remark text or '',
--       $16 entry entry
-- from: delivery
-- fact: delivery
INSERT INTO delivery (id, ref, site, year, serial, supplier, note, order_no, note_day, arrived, received_at,
                      received_by, file_name, file_digest, remark, entry)
VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15, $16);

-- name: delivery_by_ref
-- in:   $1 ref text
-- out:  delivery
SELECT d.id, d.ref, d.year, d.serial, d.supplier, s.name AS supplier_name, d.note, d.order_no, d.note_day, d.arrived,
       d.received_at, p.name AS received_by, d.file_name, d.file_digest, d.remark,
       (SELECT w.name FROM supplier w WHERE w.id = d.written_by) AS written_as
  FROM delivery_now d JOIN supplier s ON s.id = d.supplier JOIN person p ON p.id = d.received_by
 WHERE d.ref = $1;

-- Void or not.
-- name: delivery_by_id
-- in:   $1 id text
-- out:  delivery
-- find: delivery_ever
SELECT d.id, d.ref, d.year, d.serial, d.supplier, s.name AS supplier_name, d.note, d.order_no, d.note_day, d.arrived,
       d.received_at, p.name AS received_by, d.file_name, d.file_digest, d.remark,
       (SELECT w.name FROM supplier w WHERE w.id = d.written_by) AS written_as
  FROM delivery_amended d JOIN supplier s ON s.id = d.supplier JOIN person p ON p.id = d.received_by
 WHERE d.id = $1;

-- Void or not.
-- name: delivery_named
-- in:   $1 ref text
-- out:  delivery
-- find: delivery_named
SELECT d.id, d.ref, d.year, d.serial, d.supplier, s.name AS supplier_name, d.note, d.order_no, d.note_day, d.arrived,
       d.received_at, p.name AS received_by, d.file_name, d.file_digest, d.remark,
       (SELECT w.name FROM supplier w WHERE w.id = d.written_by) AS written_as
  FROM delivery_amended d JOIN supplier s ON s.id = d.supplier JOIN person p ON p.id = d.received_by
 WHERE d.ref = $1;

-- name: delivery_by_digest
-- in:   $1 file_digest text
-- out:  delivery
-- find: delivery_by_file
SELECT d.id, d.ref, d.year, d.serial, d.supplier, s.name AS supplier_name, d.note, d.order_no, d.note_day, d.arrived,
       d.received_at, p.name AS received_by, d.file_name, d.file_digest, d.remark,
       (SELECT w.name FROM supplier w WHERE w.id = d.written_by) AS written_as
  FROM delivery_now d JOIN supplier s ON s.id = d.supplier JOIN person p ON p.id = d.received_by
 WHERE d.file_digest = $1
 ORDER BY d.entry, d.id LIMIT 1;

-- The last one of a supplier with this note, other than one.
-- name: delivery_of_note
-- in:   $1 supplier text, $2 note text, $3 id text or NULL
-- out:  delivery
-- find: delivery_of_note
SELECT d.id, d.ref, d.year, d.serial, d.supplier, s.name AS supplier_name, d.note, d.order_no, d.note_day, d.arrived,
       d.received_at, p.name AS received_by, d.file_name, d.file_digest, d.remark,
       (SELECT w.name FROM supplier w WHERE w.id = d.written_by) AS written_as
  FROM delivery_now d JOIN supplier s ON s.id = d.supplier JOIN person p ON p.id = d.received_by
 WHERE d.supplier = $1 AND d.note = $2 AND (CAST($3 AS TEXT) IS NULL OR d.id <> CAST($3 AS TEXT))
 ORDER BY d.entry DESC, d.id DESC LIMIT 1;

-- The notes of a supplier, the latest first.
-- name: notes_of_supplier
-- in:   $1 supplier text
-- out:  delivery_note
-- list: delivery_notes
SELECT d.ref, d.note, d.note_day FROM delivery_now d WHERE d.supplier = $1 AND d.note <> '' ORDER BY d.entry DESC, d.id DESC;

-- Deliveries of a supplier, and of anybody since a day, that have a bolt of this number, with the zeros before it that a spreadsheet drops
-- or without, and of a length within a span.
-- name: deliveries_of_bolt
-- in:   $1 supplier text, $2 number text, $3 least number (metres), $4 most number, $5 since text (day of arrival)
-- out:  ref text
-- list: deliveries_of_bolt
SELECT DISTINCT d.ref
  FROM bolt_now b JOIN lot_goods l ON l.id = b.lot JOIN delivery_now d ON d.id = l.delivery
 WHERE b.number IN ($2, LTRIM($2, '0'), '0' || LTRIM($2, '0'), '00' || LTRIM($2, '0'), '000' || LTRIM($2, '0'),
                    '0000' || LTRIM($2, '0'), '00000' || LTRIM($2, '0'), '000000' || LTRIM($2, '0'))
   AND (d.supplier = $1 OR d.arrived >= $5)
   AND b.metres BETWEEN CAST($3 AS DOUBLE PRECISION) AND CAST($4 AS DOUBLE PRECISION)
 ORDER BY d.ref DESC LIMIT 50;

-- name: delivery_goods
-- in:   $1 delivery text
-- out:  delivery_goods
SELECT COUNT(*) AS lots, CAST(COALESCE(SUM(l.bolts), 0) AS BIGINT) AS bolts, COALESCE(SUM(l.metres), 0.0) AS metres,
       CAST(COALESCE(SUM(l.unknown), 0) AS BIGINT) AS unknown
  FROM lot_goods l WHERE l.delivery = $1 AND l.voided = 0;

-- name: lot_add
-- in:   $1 id text, $2 ref text, $3 delivery text, $4 serial whole, $5 article text or '', $6 colour text or '',
--       $7 dye_lot text or '', $8 origin text or '', $9 unit_price number or NULL, $10 currency text or '',
--       $11 bolts whole, $12 metres number, $13 entry entry
-- from: lot
-- fact: lot
INSERT INTO lot (id, ref, delivery, serial, article, colour, dye_lot, origin, unit_price, currency, bolts, metres,
                 entry)
VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13);

-- As in lot_now, which would take longer to prepare by the names of its columns. What is settled bolt by bolt is asked apart
-- (singles_of_lot): of most lots there is nothing, and that view too takes long to prepare.
-- name: lot_by_ref
-- in:   $1 ref text
-- out:  lot
SELECT id, ref, delivery, serial, article, colour, dye_lot, origin, unit_price, currency, bolts, metres, kg,
       derived, unknown, delivery_ref,
       arrived, supplier, supplier_name, declared, reading, clear, doubts, declaration, standing, verdict,
       log_ratio, bolts_burnt, burns, bolts_tested, tests, voided,
       0 AS released_in_part, 0 AS returned_in_part, 0 AS held_in_part,
       own_words, judged, judged_at, grade, lowest, highest, one_look, against, analyses,
       CASE WHEN EXISTS (SELECT 1 FROM verdict u WHERE u.id = judged AND u.detail LIKE '%"untested":["%') THEN 1 ELSE 0 END AS untested,
       CASE WHEN EXISTS (SELECT 1 FROM verdict u WHERE u.id = judged AND u.detail LIKE '%"at_odds":true%') THEN 1 ELSE 0 END AS at_odds,
       (SELECT MAX(substr(x.seen, 1, 10) || ' ' || substr(x.typed, 1, 10)) FROM lot_seen x
         WHERE x.lot = l.id AND x.entry <= (SELECT e.entry FROM verdict e WHERE e.id = l.judged)) AS seen,
       w.weight_kg, COALESCE(w.weighed, 0) AS weighed
  FROM lot_whole l LEFT JOIN lot_weighed w ON w.lot = l.id WHERE ref = $1 AND voided = 0;

-- The same, void or not.
-- name: lot_ever
-- in:   $1 ref text
-- out:  lot
SELECT id, ref, delivery, serial, article, colour, dye_lot, origin, unit_price, currency, bolts, metres, kg,
       derived, unknown, delivery_ref,
       arrived, supplier, supplier_name, declared, reading, clear, doubts, declaration, standing, verdict,
       log_ratio, bolts_burnt, burns, bolts_tested, tests, voided,
       0 AS released_in_part, 0 AS returned_in_part, 0 AS held_in_part,
       own_words, judged, judged_at, grade, lowest, highest, one_look, against, analyses,
       CASE WHEN EXISTS (SELECT 1 FROM verdict u WHERE u.id = judged AND u.detail LIKE '%"untested":["%') THEN 1 ELSE 0 END AS untested,
       CASE WHEN EXISTS (SELECT 1 FROM verdict u WHERE u.id = judged AND u.detail LIKE '%"at_odds":true%') THEN 1 ELSE 0 END AS at_odds,
       (SELECT MAX(substr(x.seen, 1, 10) || ' ' || substr(x.typed, 1, 10)) FROM lot_seen x
         WHERE x.lot = l.id AND x.entry <= (SELECT e.entry FROM verdict e WHERE e.id = l.judged)) AS seen,
       w.weight_kg, COALESCE(w.weighed, 0) AS weighed
  FROM lot_whole l LEFT JOIN lot_weighed w ON w.lot = l.id WHERE ref = $1;

-- Was any bolt of a lot ever settled by itself?
-- name: lot_has_singles
-- in:   $1 lot text
-- out:  some whole
SELECT EXISTS (SELECT 1 FROM bolt_standing s WHERE s.lot = $1) AS some;

-- name: singles_of_lot
-- in:   $1 lot text
-- out:  singles
SELECT COUNT(*) AS singles, COALESCE(SUM(CASE WHEN x.standing = 'released' THEN 1 ELSE 0 END), 0) AS released,
       COALESCE(SUM(CASE WHEN x.standing = 'returned' THEN 1 ELSE 0 END), 0) AS returned
  FROM bolt_standing_now x WHERE x.lot = $1;

-- name: lot_where
-- in:   $1 from text or NULL (day), $2 until text or NULL (the day after the last), $3 supplier text or NULL,
--       $4 standing standing or NULL, $5 delivery text or NULL
-- from: lot_filter (tenterbook/goods.h)
-- out:  lot
SELECT id, ref, delivery, serial, article, colour, dye_lot, origin, unit_price, currency, bolts, metres, kg,
       derived, unknown, delivery_ref,
       arrived, supplier, supplier_name, declared, reading, clear, doubts, declaration, standing, verdict,
       log_ratio, bolts_burnt, burns, bolts_tested, tests, voided,
       CASE WHEN standing <> 'released' THEN z.released WHEN z.singles > z.released
            THEN bolts - z.singles + z.released ELSE 0 END AS released_in_part,
       CASE WHEN standing <> 'returned' THEN z.returned WHEN z.singles > z.returned
            THEN bolts - z.singles + z.returned ELSE 0 END AS returned_in_part,
       CASE WHEN standing <> 'held' THEN z.singles - z.released - z.returned WHEN z.released + z.returned > 0
            THEN bolts - z.released - z.returned ELSE 0 END AS held_in_part,
       own_words, judged, judged_at, grade, lowest, highest, one_look, against, analyses,
       CASE WHEN EXISTS (SELECT 1 FROM verdict u WHERE u.id = judged AND u.detail LIKE '%"untested":["%') THEN 1 ELSE 0 END AS untested,
       CASE WHEN EXISTS (SELECT 1 FROM verdict u WHERE u.id = judged AND u.detail LIKE '%"at_odds":true%') THEN 1 ELSE 0 END AS at_odds,
       (SELECT MAX(substr(x.seen, 1, 10) || ' ' || substr(x.typed, 1, 10)) FROM lot_seen x
         WHERE x.lot = l.id AND x.entry <= (SELECT e.entry FROM verdict e WHERE e.id = l.judged)) AS seen,
       w.weight_kg, COALESCE(w.weighed, 0) AS weighed
  FROM lot_now l LEFT JOIN lot_weighed w ON w.lot = l.id JOIN lot_singles z ON z.lot = l.id
 WHERE (CAST($1 AS TEXT) IS NULL OR arrived >= CAST($1 AS TEXT))
   AND (CAST($2 AS TEXT) IS NULL OR arrived < CAST($2 AS TEXT))
   AND (CAST($3 AS TEXT) IS NULL OR supplier = CAST($3 AS TEXT))
   AND (CAST($4 AS TEXT) IS NULL OR standing = CAST($4 AS TEXT)
        OR EXISTS (SELECT 1 FROM bolt_standing_now x WHERE x.lot = l.id AND x.standing = CAST($4 AS TEXT)))
   AND (CAST($5 AS TEXT) IS NULL OR delivery = CAST($5 AS TEXT))
 ORDER BY arrived, delivery, serial;

-- name: lot_refs_by_bolt
-- in:   $1 number text
-- out:  ref text
SELECT DISTINCT l.ref FROM bolt_now b JOIN lot_goods l ON l.id = b.lot WHERE b.number = $1 ORDER BY l.ref LIMIT 20;

-- name: lot_refs_by_bolt_like
-- in:   $1 number text
-- out:  ref text
-- The same for a number that is typed in other letter case, or without the zeros before it.
SELECT DISTINCT l.ref FROM bolt_now b JOIN lot_goods l ON l.id = b.lot
 WHERE UPPER(LTRIM(b.number, '0')) = UPPER(LTRIM($1, '0')) ORDER BY l.ref LIMIT 20;

-- name: declaration_add
-- in:   $1 id key, $2 lot text, $3 text text, $4 reading text, $5 clear flag, $6 doubts text, $7 origin origin,
--       $8 replaces text or NULL, $9 entry entry
-- fact: declaration
INSERT INTO declaration (id, lot, text, reading, clear, doubts, origin, replaces, entry)
VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9);

-- name: declaration_why_add
-- in:   $1 id key, $2 declaration text, $3 why text, $4 entry entry
-- fact: declaration_why
INSERT INTO declaration_why (id, declaration, why, entry) VALUES ($1, $2, $3, $4);

-- name: declarations_of_lot
-- in:   $1 lot text, $2 upto whole (the last journal row that counts)
-- out:  text text
SELECT text FROM declaration
 WHERE lot = $1 AND entry <= CAST($2 AS BIGINT)
 ORDER BY entry, id;

-- name: declaration_history
-- in:   $1 lot text
-- out:  declared
-- list: declaration_list
SELECT c.id, c.text, c.reading, c.doubts, c.origin, c.replaces, c.clear, j.at, j.person, COALESCE(y.why, '') AS why
  FROM declaration c JOIN journal j ON j.number = c.entry
  LEFT JOIN declaration_why y ON y.declaration = c.id
 WHERE c.lot = $1
 ORDER BY c.entry, c.id;

-- name: bolt_add
-- in:   $1 id key, $2 lot text, $3 number text, $4 metres number or NULL, $5 width_cm number or NULL,
--       $6 mass_gm2 number or NULL, $7 said text or '', $8 entry entry
-- from: bolt
-- fact: bolt
INSERT INTO bolt (id, lot, number, metres, width_cm, mass_gm2, said, entry)
VALUES ($1, $2, $3, $4, $5, $6, $7, $8);

-- name: bolt_mass_add
-- in:   $1 id key, $2 bolt text, $3 kg number, $4 derived flag, $5 entry entry
-- fact: bolt_mass
INSERT INTO bolt_mass (id, bolt, kg, derived, entry) VALUES ($1, $2, $3, $4, $5);

-- name: lot_mass_add
-- in:   $1 id key, $2 lot text, $3 kg number, $4 derived whole, $5 unknown whole, $6 entry entry
-- fact: lot_mass
INSERT INTO lot_mass (id, lot, kg, derived, unknown, entry) VALUES ($1, $2, $3, $4, $5, $6);

-- name: bolt_weight_add
-- in:   $1 id key, $2 bolt text, $3 kg number, $4 entry entry
-- fact: bolt_weight
INSERT INTO bolt_weight (id, bolt, kg, entry) VALUES ($1, $2, $3, $4);

-- name: lot_weight_add
-- in:   $1 id key, $2 lot text, $3 kg number, $4 bolts whole, $5 entry entry
-- fact: lot_weight
INSERT INTO lot_weight (id, lot, kg, bolts, entry) VALUES ($1, $2, $3, $4, $5);

-- name: lot_price_add
-- in:   $1 id key, $2 lot text, $3 price number, $4 unit text, $5 metres number or NULL, $6 currency text or '', $7 entry entry
-- fact: lot_price
INSERT INTO lot_price (id, lot, price, unit, metres, currency, entry) VALUES ($1, $2, $3, $4, $5, $6, $7);

-- name: lot_invoiced
-- in:   $1 lot text
-- out:  invoiced
SELECT i.price, i.unit, i.unit_metres, i.currency FROM lot_invoiced i WHERE i.lot = $1;

-- name: bolt_rough_count
-- out:  bolts whole
SELECT SUM(bolts) AS bolts FROM lot;

-- name: bolt_number_index_drop
DROP INDEX IF EXISTS bolt_by_number;

-- name: bolt_number_index_make
CREATE INDEX IF NOT EXISTS bolt_by_number ON bolt (number);

-- name: bolt_of_lot
-- in:   $1 lot text
-- out:  bolt
-- list: bolt_list
SELECT b.id, b.lot, b.number, b.metres, b.width_cm, b.mass_gm2, b.said, b.kg, b.derived, l.ref AS lot_ref, w.kg AS weight_kg
  FROM bolt_now b JOIN lot_goods l ON l.id = b.lot LEFT JOIN bolt_weight w ON w.bolt = b.id
 WHERE b.lot = $1
 ORDER BY b.id;

-- name: bolt_by_lot_and_number_like
-- in:   $1 lot text, $2 number text
-- out:  bolt
SELECT b.id, b.lot, b.number, b.metres, b.width_cm, b.mass_gm2, b.said, b.kg, b.derived, l.ref AS lot_ref, w.kg AS weight_kg
  FROM bolt_now b JOIN lot_goods l ON l.id = b.lot LEFT JOIN bolt_weight w ON w.bolt = b.id
 WHERE b.lot = $1 AND UPPER(LTRIM(b.number, '0')) = UPPER(LTRIM($2, '0'))
 ORDER BY b.number, b.id LIMIT 2;

-- name: bolt_by_lot_and_number
-- in:   $1 lot text, $2 number text
-- out:  bolt
SELECT b.id, b.lot, b.number, b.metres, b.width_cm, b.mass_gm2, b.said, b.kg, b.derived, l.ref AS lot_ref, w.kg AS weight_kg
  FROM bolt_now b JOIN lot_goods l ON l.id = b.lot LEFT JOIN bolt_weight w ON w.bolt = b.id
 WHERE b.lot = $1 AND b.number = $2
 ORDER BY b.id LIMIT 1;
