-- How each fact table is read back for proof: the columns in the order of its INSERT, entry last, in the order
-- of writing.

-- name: facts_site
-- out:  id text, code text, name text, country text, entry whole
SELECT id, code, name, country, entry FROM site ORDER BY entry, id;

-- name: facts_setting
-- out:  id text, name text, value text, entry whole
SELECT id, name, value, entry FROM setting ORDER BY entry, id;

-- name: facts_person
-- out:  id text, name text, entry whole
SELECT id, name, entry FROM person ORDER BY entry, id;

-- name: facts_supplier
-- out:  id text, name text, folded text, entry whole
SELECT id, name, folded, entry FROM supplier ORDER BY entry, id;

-- name: facts_delivery
-- out:  id text, ref text, site text, year whole, serial whole, supplier text, note text, order_no text, note_day text, arrived text, received_at text, received_by text, file_name text, file_digest text, remark text, entry whole
SELECT id, ref, site, year, serial, supplier, note, order_no, note_day, arrived, received_at, received_by,
       file_name, file_digest, remark, entry
  FROM delivery ORDER BY entry, id;

-- name: facts_lot
-- out:  id text, ref text, delivery text, serial whole, article text, colour text, dye_lot text, origin text, unit_price number, currency text, bolts whole, metres number, entry whole
SELECT id, ref, delivery, serial, article, colour, dye_lot, origin, unit_price, currency, bolts, metres, entry
  FROM lot ORDER BY entry, id;

-- name: facts_declaration
-- out:  id text, lot text, text text, reading text, clear whole, doubts text, origin text, replaces text, entry whole
SELECT id, lot, text, reading, clear, doubts, origin, replaces, entry FROM declaration ORDER BY entry, id;

-- name: facts_bolt
-- out:  id text, lot text, number text, metres number, width_cm number, mass_gm2 number, said text, entry whole
SELECT id, lot, number, metres, width_cm, mass_gm2, said, entry FROM bolt ORDER BY entry, id;

-- name: facts_swatch
-- out:  id text, tag text, lot text, bolt text, serial whole, part text, known text, kept text, cut_at text, cut_by text, entry whole
SELECT id, tag, lot, bolt, serial, part, known, kept, cut_at, cut_by, entry FROM swatch ORDER BY entry, id;

-- name: facts_burn
-- out:  id text, swatch text, looked text, burned_at text, burned_by text, recorded_at text, flame text, sample_mm number, at_hand text, dead_at text, note text, replaces text, entry whole
SELECT id, swatch, looked, burned_at, burned_by, recorded_at, flame, sample_mm, at_hand, dead_at, note, replaces,
       entry
  FROM burn ORDER BY entry, id;

-- name: facts_cue_seen
-- out:  id text, burn text, cue text, seen whole, entry whole
SELECT id, burn, cue, seen, entry FROM cue_seen ORDER BY entry, id;

-- name: facts_bench_test
-- out:  id text, swatch text, test text, result text, tested_at text, tested_by text, note text, replaces text, entry whole
SELECT id, swatch, test, result, tested_at, tested_by, note, replaces, entry FROM bench_test ORDER BY entry, id;

-- name: facts_verdict
-- out:  id text, lot text, verdict text, log_ratio number, bolts_burnt whole, bolts whole, reference text, detail text, judged_at text, judged_by text, entry whole
SELECT id, lot, verdict, log_ratio, bolts_burnt, bolts, reference, detail, judged_at, judged_by, entry
  FROM verdict ORDER BY entry, id;

-- name: facts_standing
-- out:  id text, lot text, standing text, why text, old_words text, new_words text, goods_of text, settled_at text, settled_by text, entry whole
SELECT id, lot, standing, why, old_words, new_words, goods_of, settled_at, settled_by, entry
  FROM standing ORDER BY entry, id;

-- name: facts_attachment
-- out:  id text, about text, subject text, name text, media text, sha256 text, bytes bytes, entry whole
SELECT id, about, subject, name, media, sha256, bytes, entry FROM attachment ORDER BY entry, id;

-- name: facts_draw
-- out:  id text, about text, plan text, bolts whole, cut whole, bad whole, chance number, sure number, catch_one number, catch_from text, aql number, level text, inspection text, accept whole, refuse whole, seed text, drawn_at text, drawn_by text, entry whole
SELECT id, about, plan, bolts, cut, bad, chance, sure, catch_one, catch_from, aql, level, inspection, accept, refuse,
       seed, drawn_at, drawn_by, entry
  FROM draw ORDER BY entry, id;

-- name: facts_draw_bolt
-- out:  id text, draw text, bolt text, entry whole
SELECT id, draw, bolt, entry FROM draw_bolt ORDER BY entry, id;

-- name: facts_drill
-- out:  id text, serial whole, tester text, seed text, dealt_at text, dealt_by text, entry whole
SELECT id, serial, tester, seed, dealt_at, dealt_by, entry FROM drill ORDER BY entry, id;

-- name: facts_drill_card
-- out:  id text, drill text, serial whole, swatch text, entry whole
SELECT id, drill, serial, swatch, entry FROM drill_card ORDER BY entry, id;

-- name: facts_drill_answer
-- out:  id text, card text, answer text, burn text, entry whole
SELECT id, card, answer, burn, entry FROM drill_answer ORDER BY entry, id;

-- name: facts_analysis
-- out:  id text, lot text, declaration text, part text, laboratory text, report text, route text, methods text, found text, u number, answers text, detail text, analysed_on text, recorded_at text, recorded_by text, replaces text, entry whole
SELECT id, lot, declaration, part, laboratory, report, route, methods, found, u, answers, detail, analysed_on,
       recorded_at, recorded_by, replaces, entry
  FROM analysis ORDER BY entry, id;

-- name: facts_supplier_term
-- out:  id text, supplier text, country text, laws text, open_days whole, hidden_days whole, working whole, before_cutting whole, stands_in text, set_at text, set_by text, entry whole
SELECT id, supplier, country, laws, open_days, hidden_days, working, before_cutting, stands_in, set_at, set_by, entry
  FROM supplier_term ORDER BY entry, id;

-- name: facts_bolt_use
-- out:  id text, bolt text, used whole, metres number, why text, anyway whole, used_at text, used_by text, replaces text, entry whole
SELECT id, bolt, used, metres, why, anyway, used_at, used_by, replaces, entry FROM bolt_use ORDER BY entry, id;

-- name: facts_joint_sample
-- out:  id text, lot text, serial whole, swatches whole, each_one whole, seed text, laboratory text, rule text, present text, dealt_at text, dealt_by text, entry whole
SELECT id, lot, serial, swatches, each_one, seed, laboratory, rule, present, dealt_at, dealt_by, entry
  FROM joint_sample ORDER BY entry, id;

-- name: facts_joint_piece
-- out:  id text, sample text, swatch text, holder text, entry whole
SELECT id, sample, swatch, holder, entry FROM joint_piece ORDER BY entry, id;

-- name: facts_dispute
-- out:  id text, lot text, serial whole, found_on text, entry whole
SELECT id, lot, serial, found_on, entry FROM dispute ORDER BY entry, id;

-- name: facts_dispute_step
-- out:  id text, dispute text, step text, day text, words text, due text, remedy text, amount number, currency text, channel text, proof text, document text, keep_until text, recorded_at text, recorded_by text, entry whole
SELECT id, dispute, step, day, words, due, remedy, amount, currency, channel, proof, document, keep_until,
       recorded_at, recorded_by, entry
  FROM dispute_step ORDER BY entry, id;
