#!/bin/sh
# The collector pauses briefly and seldom in so small a heap; touched at the start, so no page is fetched in a scan.
exec /usr/bin/java -XX:+UseSerialGC -XX:TieredStopAtLevel=1 -Xms32m -Xmx32m -XX:+AlwaysPreTouch -XX:+ExitOnOutOfMemoryError \
    -XX:SharedArchiveFile=/usr/share/evenwash/evenwash-controller.jsa -Xshare:auto -Xlog:disable -Xlog:all=error:stderr \
    $EVENWASH_JAVA_OPTIONS -jar /usr/share/evenwash/evenwash-controller.jar "$@"
