#!/bin/sh
# Lays the program's classes out in an archive for the Java that is here: the program starts faster then.
set -e
share="$DPKG_ROOT/usr/share/evenwash"
rm -f "$share/evenwash-controller.jsa"
exec timeout 300 /usr/bin/java -XX:+UseSerialGC -XX:TieredStopAtLevel=1 -jar "$share/evenwash-controller.jar" \
    archive "$share/evenwash-controller.jsa" >/dev/null
