/** A config in which every key that must be there is, and nothing else. */
export const PLAIN = `[site]
name = "Quillmere shed"
timezone = "Europe/London"
keepers = ["keeper@quillmere.example"]

[broker]
embedded = "127.0.0.1:0"

[[chamber]]
id = "shed"

[[probe]]
id = "shed-air"
chamber = "shed"
place = "air"
topic = "quillmere/shed/air"
payload = "number"
`;

/** The section of a mail server of a test, which `ca.pem` in the same folder vouches for. */
export const mailTo = (port: number): string => `[mail]
host = "127.0.0.1"
port = ${port}
security = "starttls"
ca_file = "ca.pem"
from = "Drowse <drowse@quillmere.example>"
`;
