#!/usr/bin/python3
"""Read a mail as a mail program does and print what is in it: read_mail.py FILE.eml FOLDER.

Head fields decoded, the text, and each attachment into FOLDER. Fails where Python's parser (policy of RFC 5322 and MIME) finds a
defect, a line is longer than 78 bytes, a byte is not ASCII, or a line does not end with CR LF."""
import email, email.policy, os, sys

raw = open(sys.argv[1], "rb").read()
for n, line in enumerate(raw.split(b"\n")[:-1], 1):
    if not line.endswith(b"\r"):
        sys.exit(f"line {n} does not end with CR LF")
    if len(line) > 79:
        sys.exit(f"line {n} has {len(line) - 1} bytes")
if any(b > 126 or (b < 32 and b not in b"\r\n") for b in raw):
    sys.exit("a byte is not printable ASCII")
m = email.message_from_bytes(raw, policy=email.policy.default)
for part in m.walk():
    if part.defects:
        sys.exit(f"defects: {part.defects}")
    for name, value in part.items():
        if getattr(value, "defects", ()):
            sys.exit(f"{name}: {value.defects}")
for name in ("From", "To", "Subject", "Date", "Message-ID", "Content-Language", "X-Unsent"):
    print(f"{name}: {m[name]}")
for field in ("From", "To"):
    for a in m[field].addresses if m[field] else ():
        print(f"{field} name: {a.display_name}; address: {a.addr_spec}")
print("Moment:", m["Date"].datetime.isoformat())
text = m.get_body(("plain",)).get_content()
with open(os.path.join(sys.argv[2], "body.txt"), "w", encoding="utf-8") as f:
    f.write(text.replace("\r\n", "\n"))
for a in m.iter_attachments():
    print(f"Attached: {a.get_filename()}, {a.get_content_type()}")
    with open(os.path.join(sys.argv[2], "attached.pdf"), "wb") as f:
        f.write(a.get_content())
