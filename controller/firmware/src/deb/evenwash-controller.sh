#!/bin/sh
# Young objects get a small room of their own, so that collecting them takes a millisecond or two; the rest of the heap grows
# when it must. The archive of classes makes the start faster; it is mapped where it was laid out (ArchiveRelocationMode=0), or
# each start would copy all of it. Without the archive the program starts all the same.
export MALLOC_ARENA_MAX=1
exec /usr/bin/java -XX:+UseSerialGC -XX:TieredStopAtLevel=1 -Xms8m -Xmx32m -Xmn2m -XX:SurvivorRatio=2 -XX:MetaspaceSize=32m \
    -XX:+ExitOnOutOfMemoryError -XX:+UnlockDiagnosticVMOptions -XX:ArchiveRelocationMode=0 \
    -XX:SharedArchiveFile=/usr/share/evenwash/evenwash-controller.jsa -Xshare:auto -Xlog:disable -Xlog:all=error:stderr \
    $EVENWASH_JAVA_OPTIONS -jar /usr/share/evenwash/evenwash-controller.jar "$@"
