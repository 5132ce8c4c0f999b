package org.evenwash.logger.broker;

import java.util.Optional;
import org.evenwash.record.Topics;

/**
 * Who may write and read what. A bench writes what a bench says and reads what is said to it, in its
 * own tree alone; the station does the reverse in every tree.
 */
final class TopicRules {
    private static final String CLIENT = "evenwash-bench-";

    private TopicRules() {}

    /**
     * The one client id that a bench may use. A bench under another's would end the other's connection,
     * under the station's the intake's.
     */
    static String clientId(String benchId) {
        return CLIENT + benchId;
    }

    static boolean benchMayWrite(String benchId, String topic) {
        return own(benchId, topic).filter(Topics.Kind::writtenByBench).isPresent();
    }

    static boolean benchMayRead(String benchId, String topic) {
        return own(benchId, topic).filter(kind -> !kind.writtenByBench()).isPresent();
    }

    static boolean stationMayWrite(String topic) {
        return Topics.parse(topic).filter(address -> !address.kind().writtenByBench()).isPresent();
    }

    static boolean stationMayRead(String topic) {
        for (Topics.Kind kind : Topics.Kind.values()) {
            if (kind.writtenByBench() && Topics.ofAllBenches(kind).equals(topic)) {
                return true;
            }
        }
        return false;
    }

    /** A filter with wildcards is no topic of ours, so no bench can read through one. */
    private static Optional<Topics.Kind> own(String benchId, String topic) {
        return Topics.parse(topic)
                .filter(address -> address.benchId().equals(benchId))
                .map(Topics.Address::kind);
    }
}
