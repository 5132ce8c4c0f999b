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
import java.util.stream.IntStream;
import org.awaitility.Awaitility;
import org.awaitility.core.ConditionTimeoutException;

/** Compares what stands in the logger's database with what began at the bench. */
final class Judge {
    private static final Duration PATIENCE = Duration.ofMinutes(2);
    private static final String UNRELEASED =
            "SELECT message_id FROM message WHERE released_at_ms IS NULL";
    private static final String HOW_IT_ENDED =
            "SELECT outcome || COALESCE(' by ' || json_extract(record_json, '$.endedBy'), '')"
                    + " || CASE outcome WHEN 'STOPPED' THEN ' after '"
                    + " || COALESCE(json_extract(record_json, '$.interruptions[#-1].tag'), 'nothing')"
                    + " ELSE '' END FROM cycle";
    private static final String INTERRUPTED = "INTERRUPTED by POWER-LOST";

    /**
     * All that mishaps can do to a cycle. Nobody presses STOP or the emergency stop while one runs; but whoever starts a
     * logger again may be away from a held bench for longer than the recipe allows, at twenty times the speed.
     */
    private static final Set<String> ENDINGS =
            Set.of(
                    "COMPLETE",
                    INTERRUPTED,
                    "STOPPED by HOLD-TOO-LONG after SCAN-OVERRUN",
                    "STOPPED by HOLD-TOO-LONG after OUTBOX-SLOW");

    private Judge() {}

    /**
     * What was found in one scenario.
     *
     * @param cycles begun at the bench
     * @param endings how each of those stored ended
     * @param toldGone begun and not in the database, but stood in a damaged outbox, whose salvage told the person that
     *     it is gone
     * @param lost begun, and not in the database, and nobody was told
     * @param duplicated more than once in the database
     * @param unexplained anything else that nobody could account for
     */
    record Verdict(
            int cycles,
            List<String> endings,
            List<String> toldGone,
            List<String> lost,
            List<String> duplicated,
            List<String> unexplained) {
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
        awaitNumbers(trouble);

        Set<String> begun = new TreeSet<>(trouble.started());
        begun.addAll(cyclesIn(outbox));
        List<String> stored = column(database, "SELECT id FROM cycle");
        List<String> missing = without(begun, stored);
        List<String> lost = without(missing, trouble.salvaged().ids());
        List<String> duplicated = new ArrayList<>(stored);
        new HashSet<>(stored).forEach(duplicated::remove);
        without(stored, begun).forEach(id -> unexplained.add("cycle " + id + " never began"));
        if (begun.size() > trouble.hand().starts()) {
            unexplained.add(begun.size() + " cycles of " + trouble.hand().starts() + " starts");
        }
        contents(trouble, unexplained);
        numbers(trouble, duplicated, unexplained);
        List<String> endings = column(database, HOW_IT_ENDED);
        endings(trouble, endings, unexplained);
        column(database, "SELECT COALESCE(reason, '') || ' on ' || topic FROM set_aside")
                .forEach(reason -> unexplained.add("set aside: " + reason));
        return new Verdict(
                begun.size(), endings, without(missing, lost), lost, duplicated, unexplained);
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
    private static void awaitNumbers(Trouble trouble) {
        try {
            Awaitility.await("all numbers")
                    .atMost(PATIENCE)
                    .until(() -> missingNumbers(trouble, came(trouble)).isEmpty());
        } catch (ConditionTimeoutException e) {
            // Which are missing is told by name when they are compared.
        }
    }

    /** The bench and the logger hold the same bytes, by their hashes. */
    private static void contents(Trouble trouble, List<String> unexplained) {
        Path database = trouble.yard().database();
        String hash = " || ' ' || sha256 FROM ";
        Set<String> here =
                new HashSet<>(
                        column(trouble.yard().outbox(), "SELECT message_id" + hash + "message"));
        List<String> there = column(database, "SELECT id" + hash + "cycle");
        there.addAll(column(database, "SELECT id" + hash + "bench_event"));
        without(there, here).stream()
                .filter(one -> !trouble.salvaged().ids().contains(one.split(" ", 2)[0]))
                .forEach(one -> unexplained.add("other content: " + one));
    }

    private static void numbers(
            Trouble trouble, List<String> duplicated, List<String> unexplained) {
        List<String> came = came(trouble);
        missingNumbers(trouble, came)
                .forEach(number -> unexplained.add("number " + number + " missing"));
        without(came, given(trouble))
                .forEach(number -> unexplained.add("number " + number + " not given"));
        new HashSet<>(came).forEach(came::remove);
        came.forEach(number -> duplicated.add("number " + number));
    }

    private static List<String> missingNumbers(Trouble trouble, List<String> came) {
        return without(without(given(trouble), came), trouble.salvaged().numbers());
    }

    private static List<String> given(Trouble trouble) {
        Path outbox = trouble.yard().outbox();
        int last = Integer.parseInt(column(outbox, "SELECT last_sequence FROM outbox").get(0));
        return IntStream.rangeClosed(1, last).mapToObj(String::valueOf).toList();
    }

    /** Under the outbox of today; there is another only where all was damaged. */
    private static List<String> came(Trouble trouble) {
        String outbox = column(trouble.yard().outbox(), "SELECT outbox_id FROM outbox").get(0);
        return column(
                trouble.yard().database(),
                "SELECT sequence FROM outbox_number WHERE outbox_id = '" + outbox + "'");
    }

    /** Each cycle ended of something that happened, an interrupted one of a killed controller. */
    private static void endings(Trouble trouble, List<String> endings, List<String> unexplained) {
        endings.stream()
                .filter(ending -> !ENDINGS.contains(ending))
                .forEach(ending -> unexplained.add("ended " + ending));
        long interrupted = endings.stream().filter(INTERRUPTED::equals).count();
        if (interrupted > trouble.controllersKilled()) {
            unexplained.add(
                    interrupted + " interrupted, " + trouble.controllersKilled() + " kills");
        }
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
