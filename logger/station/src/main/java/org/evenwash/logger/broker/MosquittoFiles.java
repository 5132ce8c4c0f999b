package org.evenwash.logger.broker;

import java.nio.file.Path;
import java.util.Map;
import org.evenwash.record.Topics;

/**
 * The rules of {@link TopicRules} in the words of Mosquitto's files: who has which password, who may read
 * and write what, and the settings that go with it.
 */
public final class MosquittoFiles {
    private MosquittoFiles() {}

    /**
     * A password file.
     *
     * @param hashes by user, as {@code mosquitto_passwd} makes them
     */
    public static String passwords(Map<String, String> hashes) {
        StringBuilder text = new StringBuilder();
        hashes.forEach((user, hash) -> text.append(user).append(':').append(hash).append('\n'));
        return text.toString();
    }

    /** An access file: the loggers by name, the benches by pattern, each in its own tree alone. */
    public static String access(Iterable<String> loggers) {
        StringBuilder text = new StringBuilder();
        text.append(
                "# Made by evenwash-logger broker-files. Nobody without a password gets anything.\n");
        for (String logger : loggers) {
            text.append("\nuser ").append(logger).append('\n');
            for (Topics.Kind kind : Topics.Kind.values()) {
                text.append("topic ")
                        .append(kind.writtenByBench() ? "read " : "write ")
                        .append(Topics.ofAllBenches(kind))
                        .append('\n');
            }
        }
        text.append("\n# A bench signs in as its id.\n");
        for (Topics.Kind kind : Topics.Kind.values()) {
            text.append("pattern ")
                    .append(kind.writtenByBench() ? "write " : "read ")
                    .append(Topics.ofAllBenches(kind).replace("+", "%u"))
                    .append('\n');
        }
        return text.toString();
    }

    /**
     * Settings to be included in Mosquitto's own.
     *
     * @param folder of the files, as Mosquitto will find it
     * @param certificates whether certificate and key lie beside them
     */
    public static String settings(Path folder, boolean certificates) {
        String listener =
                certificates
                        ? """
                        listener 8883
                        certfile %1$s/broker.pem
                        keyfile %1$s/broker-key.pem
                        """
                        : """
                        # No certificates: this machine only, so that no password travels in clear.
                        listener 1883 127.0.0.1
                        """;
        return ("""
                # Made by evenwash-logger broker-files.
                per_listener_settings false
                allow_anonymous false
                password_file %1$s/passwords
                acl_file %1$s/acl
                """
                        + listener
                        + """
                        # Nobody can end another's connection by using its client id.
                        use_username_as_clientid true
                        # A little more than a logger's session lasts; nobody's lasts for ever.
                        persistent_client_expiration 24d
                        persistence true
                        autosave_interval 1
                        autosave_on_changes true
                        max_queued_messages 0
                        max_inflight_messages 1000
                        max_packet_size 1048576
                        """)
                .formatted(folder);
    }
}
