-- Facts with long rows are read in the order of the journal without being sorted first: the sorting held all of them in memory, which
-- is to say every photograph of the book whenever it was proved.

CREATE INDEX verdict_by_entry ON verdict (entry, id);
CREATE INDEX attachment_by_entry ON attachment (entry, id);
