#!/bin/sh
# The service's folder, unless another is named: a password set elsewhere would protect nothing.
export EVENWASH_DATA="${EVENWASH_DATA:-/var/lib/evenwash/logger}"
# glibc would give its threads up to eight pools of memory a processor, and each keeps the most that it ever held: the memory
# of the program then grows in steps, for hours. Two are enough for a web server and one thread that writes.
export MALLOC_ARENA_MAX=2
exec /usr/bin/java -XX:+UseSerialGC -Xmx256m -XX:NewRatio=1 -XX:SurvivorRatio=6 -XX:+ExitOnOutOfMemoryError \
    -XX:SharedArchiveFile=/usr/share/evenwash/evenwash-logger.jsa -Xshare:auto -Xlog:disable -Xlog:all=error:stderr \
    $EVENWASH_JAVA_OPTIONS -jar /usr/share/evenwash/evenwash-logger.jar "$@"
