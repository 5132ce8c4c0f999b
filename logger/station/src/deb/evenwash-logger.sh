#!/bin/sh
# The service's folder, unless another is named: a password set elsewhere would protect nothing.
export EVENWASH_DATA="${EVENWASH_DATA:-/var/lib/evenwash/logger}"
exec /usr/bin/java -XX:+UseSerialGC -Xmx256m -XX:NewRatio=1 -XX:SurvivorRatio=6 -XX:+ExitOnOutOfMemoryError \
    -XX:SharedArchiveFile=/usr/share/evenwash/evenwash-logger.jsa -Xshare:auto -Xlog:disable -Xlog:all=error:stderr \
    $EVENWASH_JAVA_OPTIONS -jar /usr/share/evenwash/evenwash-logger.jar "$@"
