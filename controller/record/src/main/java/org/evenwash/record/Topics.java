package org.evenwash.record;

import java.util.Locale;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** Topic names: {@code evenwash/v1/<bench>/<kind>}. */
public final class Topics {
    private static final String ROOT = "evenwash/v1/";
    private static final Pattern TOPIC =
            Pattern.compile("evenwash/v1/([a-z0-9-]{1,32})/([a-z]{1,16})");

    private Topics() {}

    /** The kinds of topic, and who writes them. */
    public enum Kind {
        CYCLE(true),
        STATE(true),
        LIVE(true),
        EVENT(true),
        TICKET(false),
        COMMAND(false),
        RECEIPT(false);

        private final boolean writtenByBench;

        Kind(boolean writtenByBench) {
            this.writtenByBench = writtenByBench;
        }

        public boolean writtenByBench() {
            return writtenByBench;
        }

        String word() {
            return name().toLowerCase(Locale.ROOT);
        }
    }

    /** A topic taken apart. */
    public record Address(String benchId, Kind kind) {}

    public static String of(String benchId, Kind kind) {
        return ROOT + Check.benchId(benchId) + "/" + kind.word();
    }

    /** The filter that takes this kind from every bench. */
    public static String ofAllBenches(Kind kind) {
        return ROOT + "+/" + kind.word();
    }

    /** Takes a topic apart; empty if it is not one of ours. */
    public static Optional<Address> parse(String topic) {
        Matcher matcher = TOPIC.matcher(topic);
        if (!matcher.matches()) {
            return Optional.empty();
        }
        for (Kind kind : Kind.values()) {
            if (kind.word().equals(matcher.group(2))) {
                return Optional.of(new Address(matcher.group(1), kind));
            }
        }
        return Optional.empty();
    }
}
