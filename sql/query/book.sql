-- name: book_version
-- out:  version integer
SELECT 1 AS version;
