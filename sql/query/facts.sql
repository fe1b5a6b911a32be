-- How each fact table is read back for proof: the columns in the order of its INSERT, entry last, in the order
-- of writing.

-- name: facts_site
-- out:  fact site
SELECT id, code, name, country, entry FROM site ORDER BY entry, id;

-- name: facts_setting
-- out:  fact setting
SELECT id, name, value, entry FROM setting ORDER BY entry, id;

-- name: facts_person
-- out:  fact person
SELECT id, name, entry FROM person ORDER BY entry, id;

-- name: facts_supplier
-- out:  fact supplier
SELECT id, name, folded, entry FROM supplier ORDER BY entry, id;

-- name: facts_delivery
-- out:  fact delivery
SELECT id, ref, site, year, serial, supplier, note, order_no, note_day, arrived, received_at, received_by,
       file_name, file_digest, remark, entry
  FROM delivery ORDER BY entry, id;

-- name: facts_lot
-- out:  fact lot
SELECT id, ref, delivery, serial, article, colour, dye_lot, origin, unit_price, currency, bolts, metres, entry
  FROM lot ORDER BY entry, id;

-- name: facts_declaration
-- out:  fact declaration
SELECT id, lot, text, reading, clear, doubts, origin, replaces, entry FROM declaration ORDER BY entry, id;

-- name: facts_declaration_why
-- out:  fact declaration_why
SELECT id, declaration, why, entry FROM declaration_why ORDER BY entry, id;

-- name: facts_bolt
-- out:  fact bolt
SELECT id, lot, number, metres, width_cm, mass_gm2, said, entry FROM bolt ORDER BY entry, id;

-- name: facts_bolt_mass
-- out:  fact bolt_mass
SELECT id, bolt, kg, derived, entry FROM bolt_mass ORDER BY entry, id;

-- name: facts_lot_mass
-- out:  fact lot_mass
SELECT id, lot, kg, derived, unknown, entry FROM lot_mass ORDER BY entry, id;

-- name: facts_bolt_weight
-- out:  fact bolt_weight
SELECT id, bolt, kg, entry FROM bolt_weight ORDER BY entry, id;

-- name: facts_lot_weight
-- out:  fact lot_weight
SELECT id, lot, kg, bolts, entry FROM lot_weight ORDER BY entry, id;

-- name: facts_swatch
-- out:  fact swatch
SELECT id, tag, lot, bolt, serial, part, known, kept, cut_at, cut_by, entry FROM swatch ORDER BY entry, id;

-- name: facts_burn
-- out:  fact burn
SELECT id, swatch, looked, burned_at, burned_by, recorded_at, flame, sample_mm, at_hand, dead_at, note, replaces,
       entry
  FROM burn ORDER BY entry, id;

-- name: facts_cue_seen
-- out:  fact cue_seen
SELECT id, burn, cue, seen, entry FROM cue_seen ORDER BY entry, id;

-- name: facts_bench_test
-- out:  fact bench_test
SELECT id, swatch, test, result, tested_at, tested_by, note, replaces, entry FROM bench_test ORDER BY entry, id;

-- name: facts_verdict
-- out:  fact verdict
SELECT id, lot, verdict, log_ratio, bolts_burnt, bolts, reference, detail, judged_at, judged_by, entry
  FROM verdict ORDER BY entry, id;

-- name: facts_standing
-- out:  fact standing
SELECT id, lot, standing, why, old_words, new_words, goods_of, settled_at, settled_by, entry
  FROM standing ORDER BY entry, id;

-- name: facts_attachment
-- out:  fact attachment
SELECT id, about, subject, name, media, sha256, bytes, entry FROM attachment ORDER BY entry, id;

-- name: facts_draw
-- out:  fact draw
SELECT id, about, plan, bolts, cut, bad, chance, sure, catch_one, catch_from, aql, level, inspection, accept, refuse,
       seed, drawn_at, drawn_by, entry
  FROM draw ORDER BY entry, id;

-- name: facts_draw_bolt
-- out:  fact draw_bolt
SELECT id, draw, bolt, entry FROM draw_bolt ORDER BY entry, id;

-- name: facts_drill
-- out:  fact drill
SELECT id, serial, tester, seed, dealt_at, dealt_by, entry FROM drill ORDER BY entry, id;

-- name: facts_drill_card
-- out:  fact drill_card
SELECT id, drill, serial, swatch, entry FROM drill_card ORDER BY entry, id;

-- name: facts_drill_answer
-- out:  fact drill_answer
SELECT id, card, answer, burn, entry FROM drill_answer ORDER BY entry, id;

-- name: facts_analysis
-- out:  fact analysis
SELECT id, lot, declaration, part, laboratory, report, route, methods, found, u, answers, detail, analysed_on,
       recorded_at, recorded_by, replaces, entry
  FROM analysis ORDER BY entry, id;

-- name: facts_sending
-- out:  fact sending
SELECT id, lot, laboratory, sent_on, recorded_at, recorded_by, entry FROM sending ORDER BY entry, id;

-- name: facts_sending_piece
-- out:  fact sending_piece
SELECT id, sending, swatch, entry FROM sending_piece ORDER BY entry, id;

-- name: facts_supplier_term
-- out:  fact supplier_term
SELECT id, supplier, country, laws, open_days, hidden_days, working, before_cutting, stands_in, set_at, set_by, entry
  FROM supplier_term ORDER BY entry, id;

-- name: facts_bolt_use
-- out:  fact bolt_use
SELECT id, bolt, used, metres, why, anyway, used_at, used_by, replaces, entry FROM bolt_use ORDER BY entry, id;

-- name: facts_joint_sample
-- out:  fact joint_sample
SELECT id, lot, serial, swatches, each_one, seed, laboratory, rule, present, dealt_at, dealt_by, entry
  FROM joint_sample ORDER BY entry, id;

-- name: facts_joint_piece
-- out:  fact joint_piece
SELECT id, sample, swatch, holder, entry FROM joint_piece ORDER BY entry, id;

-- name: facts_dispute
-- out:  fact dispute
SELECT id, lot, serial, found_on, entry FROM dispute ORDER BY entry, id;

-- name: facts_dispute_step
-- out:  fact dispute_step
SELECT id, dispute, step, day, words, due, remedy, amount, currency, channel, proof, document, keep_until,
       recorded_at, recorded_by, entry
  FROM dispute_step ORDER BY entry, id;

-- name: facts_signing_key
-- out:  fact signing_key
SELECT id, public, handover, entry FROM signing_key ORDER BY entry, id;

-- name: facts_time_stamp
-- out:  fact time_stamp
SELECT id, number, at, reply, entry FROM time_stamp ORDER BY entry, id;

-- name: facts_voiding
-- out:  fact voiding
SELECT id, about, subject, lot, why, instead, voided_at, voided_by, replaces, entry FROM voiding ORDER BY entry, id;

-- name: facts_amendment
-- out:  fact amendment
SELECT id, delivery, lot, field, old, new, supplier, why, amended_at, amended_by, entry FROM amendment ORDER BY entry, id;

-- name: facts_supplier_same
-- out:  fact supplier_same
SELECT id, supplier, same_as, why, set_at, set_by, entry FROM supplier_same ORDER BY entry, id;

-- name: facts_bolt_standing
-- out:  fact bolt_standing
SELECT id, lot, bolt, standing, why, settled_at, settled_by, entry FROM bolt_standing ORDER BY entry, id;

-- name: facts_verdict_grade
-- out:  fact verdict_grade
SELECT id, lot, verdict, grade, lowest, highest, one_look, bolts, entry FROM verdict_grade ORDER BY entry, id;

-- name: facts_address
-- out:  fact address
SELECT id, supplier, name, street, postcode, place, country, contact, email, phone, registration, language, set_at,
       set_by, entry
  FROM address ORDER BY entry, id;

-- name: facts_lot_price
-- out:  fact lot_price
SELECT id, lot, price, unit, metres, currency, entry FROM lot_price ORDER BY entry, id;

-- name: facts_standing_label
-- out:  fact standing_label
SELECT id, standing, old_words, new_words, goods_of, entry FROM standing_label ORDER BY entry, id;
