# A time-stamping authority that a test makes and asks: read this file with `.` in a folder of the test's own. Needs openssl and cc.

# authority NAME DAYS [OPENSSL OPTION ...]: a certificate authority NAME.pem, and under it one that stamps, good for so many days
authority() {
	name_=$1 days_=$2; shift 2
	mkdir "$name_" && (cd "$name_" && {
		cat >ca.conf <<EOC
[req]
distinguished_name = dn
[dn]
[root]
basicConstraints = critical, CA:TRUE
keyUsage = critical, keyCertSign, cRLSign
[tsa]
basicConstraints = CA:FALSE
keyUsage = critical, digitalSignature
extendedKeyUsage = critical, timeStamping
[ts]
default_tsa = clock
[clock]
serial = serial
crypto_device = builtin
signer_digest = sha256
default_policy = 1.2.3.4.1
digests = sha256, sha512
accuracy = secs:1
ordering = yes
tsa_name = yes
ess_cert_id_chain = no
EOC
		echo 01 >serial
		openssl ecparam -name prime256v1 -genkey -noout -out root.key
		openssl req -new -x509 -days 3650 -key root.key -subj "/CN=$name_ root" -config ca.conf -extensions root -out ../"$name_.pem"
		openssl ecparam -name prime256v1 -genkey -noout -out tsa.key
		openssl req -new -key tsa.key -subj "/CN=$name_ clock" -config ca.conf -out tsa.csr
		openssl x509 -req -in tsa.csr -CA ../"$name_.pem" -CAkey root.key -CAcreateserial -days "$days_" -extfile ca.conf -extensions tsa -out tsa.crt "$@"
	}) >"$name_.log" 2>&1 || { echo "not ok - a time-stamping authority can be made"; sed 's/^/# /' "$name_.log"; exit 1; }
}
# reply NAME REQUEST REPLY [OPENSSL OPTION ...]
reply() {
	name_=$1 q_=$2 r_=$3; shift 3
	(cd "$name_" && openssl ts -reply -queryfile "../$q_" -config ca.conf -section clock -signer tsa.crt -inkey tsa.key -out "../$r_" "$@") >reply.log 2>&1
}

# an authority whose clock stands in 2020 is asked with LD_PRELOAD=$PWD/past.so: openssl asks the time through this
past_clock() {
	cat >past.c <<'EOC'
#include <sys/time.h>
int gettimeofday(struct timeval *tv, void *zone) { (void)zone; tv->tv_sec = 1590000000; tv->tv_usec = 0; return 0; }
EOC
	cc -shared -fPIC -o past.so past.c
}
