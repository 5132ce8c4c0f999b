#!/bin/sh
# Keeps the classes of one short training run in an archive for the Java that is here: the program starts faster then.
set -e
archive="$DPKG_ROOT/usr/share/evenwash/evenwash-controller.jsa"
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT
rm -f "$archive"
printf 'ack\nreset\nchange-jar\npause 1\nstart\nwait complete 300\nquit\n' |
    timeout 120 /usr/bin/java -XX:+UseSerialGC -XX:TieredStopAtLevel=1 -Xms32m -Xmx32m -XX:ArchiveClassesAtExit="$archive" \
        -Xlog:cds=off -Xlog:cds+dynamic=off -jar "$DPKG_ROOT/usr/share/evenwash/evenwash-controller.jar" \
        run --simulate --speed 50 --no-panel --script - --data "$scratch" >/dev/null
[ -f "$archive" ]
