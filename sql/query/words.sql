-- The closed sets of words that columns hold: `standing` is enum tb_standing_kind, with its words in tb_standing_words.

-- words: holder, origin, part, remedy, standing, step, verdict
