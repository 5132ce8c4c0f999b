package org.evenwash.logger.broker;

import java.nio.file.Path;
import java.util.concurrent.CompletableFuture;
import org.apache.activemq.artemis.core.server.ActivateCallback;
import org.apache.activemq.artemis.core.server.ActiveMQServer;

/**
 * How the embedded broker tells that it goes no further. After an error of its disk it stops itself; when a part of it
 * hangs it only writes that to the log; and whatever else ends it is seen in its state. The first of these counts.
 */
final class SelfStop {
    /** How long a part may stand still, also of a slow memory card. Artemis' own default is as long. */
    static final long LONGEST_STANDSTILL_MS = 120_000;

    private static final String WHAT_TO_DO =
            ". Benches keep their records meanwhile, nothing is lost. As a service the logger starts again by itself;"
                    + " otherwise start it again";

    private final CompletableFuture<BrokerTrouble> told = new CompletableFuture<>();
    private volatile boolean asked;

    void watch(ActiveMQServer server, Path folder) {
        server.registerIOCriticalErrorListener(
                (cause, message, file) -> tell(diskTrouble(folder, cause), cause));
        server.getCriticalAnalyzer()
                .addAction(
                        part ->
                                tell(
                                        "a part of the embedded broker has stood still for "
                                                + LONGEST_STANDSTILL_MS / 1_000
                                                + " s ("
                                                + part
                                                + "); is its disk very slow, or broken? It lies in "
                                                + folder,
                                        null));
        server.registerActivateCallback(
                new ActivateCallback() {
                    @Override
                    public void deActivate() {
                        tell(
                                "the embedded broker stopped by itself; the lines before say why",
                                null);
                    }
                });
    }

    private static String diskTrouble(Path folder, Throwable cause) {
        return "the embedded broker cannot write to "
                + folder
                + " ("
                + reason(cause)
                + ") and stopped itself; look whether the disk is full or broken, and make "
                + (Broker.LEAST_FREE_DISK_B >> 20)
                + " MB of room or more";
    }

    private static String reason(Throwable cause) {
        return cause.getMessage() == null ? cause.getClass().getSimpleName() : cause.getMessage();
    }

    private void tell(String what, Throwable cause) {
        if (!asked) {
            told.complete(new BrokerTrouble(what + WHAT_TO_DO, cause));
        }
    }

    /** From here on the broker ends because it is asked to. */
    void expected() {
        asked = true;
    }

    /** Completed, with the reason, when the broker ends unasked. */
    CompletableFuture<BrokerTrouble> told() {
        return told;
    }
}
