package org.evenwash.demo;

import java.nio.file.Path;
import java.sql.SQLException;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Collection;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import org.awaitility.Awaitility;
import org.awaitility.core.ConditionTimeoutException;

/** Compares what stands in the logger's database with what began at the bench. */
final class Judge {
    private static final Duration PATIENCE = Duration.ofMinutes(2);
    private static final String UNRELEASED =
            "SELECT message_id FROM message WHERE released_at_ms IS NULL";
    private static final Set<String> OUTCOMES =
            Set.of("COMPLETE", "STOPPED", "ABORTED", "INTERRUPTED");

    private Judge() {}

    /**
     * What was found in one scenario.
     *
     * @param cycles begun at the bench
     * @param lost begun, and not in the database
     * @param duplicated more than once in the database
     * @param unexplained anything else that nobody could account for
     */
    record Verdict(
            int cycles, List<String> lost, List<String> duplicated, List<String> unexplained) {
        boolean clean() {
            return lost.isEmpty() && duplicated.isEmpty() && unexplained.isEmpty();
        }
    }

    /** Ids of the cycles that an outbox knows, finished or not. */
    static List<String> cyclesIn(Path outbox) {
        return column(
                outbox,
                "SELECT message_id FROM message WHERE kind = 'CYCLE' UNION SELECT cycle_id FROM draft");
    }

    /** Waits until the database holds as many cycles as the bench knows, as after a restore. */
    static void awaitAll(Trouble trouble) {
        Awaitility.await("all cycles offered again")
                .atMost(PATIENCE)
                .until(
                        () ->
                                column(trouble.yard().database(), "SELECT id FROM cycle").size()
                                        == cyclesIn(trouble.yard().outbox()).size());
    }

    /** Waits until the bench has a receipt for everything, and judges. */
    static Verdict of(Trouble trouble) {
        Path outbox = trouble.yard().outbox();
        Path database = trouble.yard().database();
        List<String> unexplained = new ArrayList<>();
        awaitReceipts(trouble.yard(), unexplained);
        awaitNumbers(outbox, database);

        Set<String> begun = new TreeSet<>(trouble.started());
        begun.addAll(cyclesIn(outbox));
        List<String> stored = column(database, "SELECT id FROM cycle");
        List<String> lost = without(begun, stored);
        List<String> duplicated = new ArrayList<>(stored);
        new HashSet<>(stored).forEach(duplicated::remove);
        without(stored, begun).forEach(id -> unexplained.add("cycle " + id + " never began"));
        contents(outbox, database, unexplained);
        numbers(outbox, database, duplicated, unexplained);
        outcomes(trouble, column(database, "SELECT outcome FROM cycle"), unexplained);
        column(database, "SELECT COALESCE(reason, '') || ' on ' || topic FROM set_aside")
                .forEach(reason -> unexplained.add("set aside: " + reason));
        return new Verdict(begun.size(), lost, duplicated, unexplained);
    }

    /** A logger may take its time to end after its disk was full: its unit would start it again even now. */
    private static void awaitReceipts(Yard yard, List<String> unexplained) {
        Path outbox = yard.outbox();
        try {
            Awaitility.await("receipts for all that the bench sent")
                    .atMost(PATIENCE)
                    .until(
                            () -> {
                                yard.startLoggerIfItsBrokerStopped();
                                return column(outbox, UNRELEASED).isEmpty()
                                        && column(outbox, "SELECT cycle_id FROM draft").isEmpty();
                            });
        } catch (ConditionTimeoutException e) {
            unexplained.add("no receipt for " + column(outbox, UNRELEASED));
        }
    }

    /** What a restored database lacks is asked for with a later state of the bench. */
    private static void awaitNumbers(Path outbox, Path database) {
        try {
            Awaitility.await("all numbers")
                    .atMost(PATIENCE)
                    .until(
                            () ->
                                    column(outbox, "SELECT last_sequence FROM outbox")
                                            .equals(
                                                    column(
                                                            database,
                                                            "SELECT COUNT(DISTINCT sequence) FROM outbox_number")));
        } catch (ConditionTimeoutException e) {
            // Which are missing is told by name when they are compared.
        }
    }

    /** The bench and the logger hold the same bytes, by their hashes. */
    private static void contents(Path outbox, Path database, List<String> unexplained) {
        String hash = " || ' ' || sha256 FROM ";
        Set<String> here = new HashSet<>(column(outbox, "SELECT message_id" + hash + "message"));
        List<String> there = column(database, "SELECT id" + hash + "cycle");
        there.addAll(column(database, "SELECT id" + hash + "bench_event"));
        without(there, here).forEach(one -> unexplained.add("other content: " + one));
    }

    private static void numbers(
            Path outbox, Path database, List<String> duplicated, List<String> unexplained) {
        int last = Integer.parseInt(column(outbox, "SELECT last_sequence FROM outbox").get(0));
        List<String> came = column(database, "SELECT sequence FROM outbox_number");
        List<String> given = new ArrayList<>();
        for (int number = 1; number <= last; number++) {
            given.add(String.valueOf(number));
        }
        without(given, came).forEach(number -> unexplained.add("number " + number + " missing"));
        without(came, given).forEach(number -> unexplained.add("number " + number + " not given"));
        new HashSet<>(came).forEach(came::remove);
        came.forEach(number -> duplicated.add("number " + number));
    }

    /** An interrupted cycle needs a killed controller, a begun one a start that was seen. */
    private static void outcomes(Trouble trouble, List<String> outcomes, List<String> unexplained) {
        long interrupted = outcomes.stream().filter("INTERRUPTED"::equals).count();
        if (interrupted > trouble.controllersKilled()) {
            unexplained.add(
                    interrupted + " interrupted, " + trouble.controllersKilled() + " kills");
        }
        outcomes.stream()
                .filter(outcome -> !OUTCOMES.contains(outcome))
                .forEach(outcome -> unexplained.add("outcome " + outcome));
    }

    private static List<String> without(Collection<String> all, Collection<String> those) {
        Set<String> gone = new HashSet<>(those);
        return all.stream().filter(one -> !gone.contains(one)).toList();
    }

    private static List<String> column(Path database, String sql) {
        try {
            return Yard.column(database, sql);
        } catch (SQLException e) {
            throw new AssertionError("cannot read " + database, e);
        }
    }
}
