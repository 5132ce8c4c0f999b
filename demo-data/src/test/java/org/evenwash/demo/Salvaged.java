package org.evenwash.demo;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.sql.SQLException;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** What salvaging damaged outboxes could not save, so that nobody may expect it. */
final class Salvaged {
    private static final Pattern UNREADABLE = Pattern.compile("Could not be read: (\\d+) number");
    private static final String NOTHING_TELLS = "nothing tells any more";
    private static final String ID = "SELECT outbox_id FROM outbox";
    private static final String DRAFTS = "SELECT cycle_id FROM draft";
    private static final String MESSAGES = "SELECT message_id FROM message";
    private static final String NUMBERS = "SELECT sequence FROM message";

    private final Set<String> ids = new HashSet<>();
    private final Set<String> numbers = new HashSet<>();

    /** Of messages and drafts that are gone. */
    Set<String> ids() {
        return ids;
    }

    /** Of the outbox of now, without a message. */
    Set<String> numbers() {
        return numbers;
    }

    /** Compares with a copy from before the damage: no more may be gone than the command said. */
    void note(String said, Path before, Path after) {
        Set<String> messages = gone(before, after, MESSAGES);
        Set<String> drafts = gone(before, after, DRAFTS);
        Matcher unreadable = UNREADABLE.matcher(said);
        if (unreadable.find()) {
            assertThat(messages)
                    .as(said)
                    .hasSizeLessThanOrEqualTo(Integer.parseInt(unreadable.group(1)));
        } else {
            assertThat(said).contains(NOTHING_TELLS);
        }
        if (!drafts.isEmpty()) {
            assertThat(said).contains("not all could be read").contains("draft");
        }
        ids.addAll(messages);
        ids.addAll(drafts);
        if (!column(before, ID).equals(column(after, ID))) {
            numbers.clear(); // it counts anew
        }
        Set<String> there = new HashSet<>(column(after, NUMBERS));
        int last = Integer.parseInt(column(after, "SELECT last_sequence FROM outbox").get(0));
        for (int number = 1; number <= last; number++) {
            if (!there.contains(String.valueOf(number))) {
                numbers.add(String.valueOf(number));
            }
        }
    }

    private static Set<String> gone(Path before, Path after, String what) {
        Set<String> gone = new TreeSet<>(column(before, what));
        column(after, what).forEach(gone::remove);
        return gone;
    }

    private static List<String> column(Path outbox, String sql) {
        try {
            return Yard.column(outbox, sql);
        } catch (SQLException e) {
            throw new AssertionError("cannot read " + outbox, e);
        }
    }
}
