package org.evenwash.demo;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Path;
import java.sql.SQLException;
import java.time.Duration;
import java.util.List;
import java.util.stream.IntStream;
import org.awaitility.Awaitility;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * The shipped programs, each killed with signal 9 in the middle of a run: afterwards every cycle that
 * began stands in the database exactly once.
 */
class NothingLostIT {
    @TempDir Path folder;

    @Test
    void controllerKilledMidCycle_withTheEmbeddedBroker_leavesAnInterruptedRecord()
            throws Exception {
        controllerKilled(SetUp.EMBEDDED);
    }

    @Test
    void controllerKilledMidCycle_withMosquitto_leavesAnInterruptedRecord() throws Exception {
        controllerKilled(SetUp.MOSQUITTO_AS_SHIPPED);
    }

    private void controllerKilled(SetUp setUp) throws Exception {
        try (Yard yard = new Yard(folder, setUp, "two-minutes-three-bouts")) {
            yard.open();
            yard.startController();
            yard.begin();
            yard.finish();
            yard.begin();
            yard.awaitStartMarker();
            yard.killController();
            yard.startController();
            yard.begin();
            yard.finish();
            everyCycleOnce(yard, List.of("COMPLETE", "COMPLETE", "INTERRUPTED"));
        }
    }

    @Test
    void loggerAndItsBrokerKilledMidCycle_getWhatTheyMissed() throws Exception {
        loggerKilled(SetUp.EMBEDDED);
    }

    @Test
    void loggerKilledMidCycle_withMosquitto_getsWhatItMissed() throws Exception {
        loggerKilled(SetUp.MOSQUITTO_AS_SHIPPED);
    }

    private void loggerKilled(SetUp setUp) throws Exception {
        try (Yard yard = new Yard(folder, setUp, "twenty-seconds")) {
            yard.open();
            yard.startController();
            yard.begin();
            yard.finish();
            yard.begin();
            yard.killLogger();
            yard.finish();
            yard.begin();
            yard.startLogger();
            yard.finish();
            everyCycleOnce(yard, List.of("COMPLETE", "COMPLETE", "COMPLETE"));
        }
    }

    @Test
    void mosquittoKilledMidCycle_losesNothing() throws Exception {
        try (Yard yard = new Yard(folder, SetUp.MOSQUITTO_AS_SHIPPED, "twenty-seconds")) {
            yard.open();
            yard.startController();
            yard.begin();
            yard.finish();
            yard.begin();
            yard.killBroker();
            yard.finish();
            yard.begin();
            yard.startBroker();
            yard.finish();
            everyCycleOnce(yard, List.of("COMPLETE", "COMPLETE", "COMPLETE"));
        }
    }

    private static void everyCycleOnce(Yard yard, List<String> outcomes)
            throws IOException, SQLException {
        Path outbox = yard.outbox();
        Path database = yard.database();
        Awaitility.await("receipts for all that the bench sent")
                .atMost(Duration.ofSeconds(90))
                .conditionEvaluationListener(
                        condition -> {
                            if (!condition.isSatisfied()
                                    && condition.getRemainingTimeInMS() < 300) {
                                System.out.println(yard.story());
                            }
                        })
                .until(
                        () ->
                                Yard.column(outbox, "SELECT cycle_id FROM draft").isEmpty()
                                        && Yard.column(outbox, UNRELEASED).isEmpty()
                                        && Yard.column(outbox, CYCLES).size() == outcomes.size());
        assertThat(Yard.column(database, "SELECT outcome FROM cycle ORDER BY outcome"))
                .as(yard.story())
                .isEqualTo(outcomes);
        assertThat(Yard.column(database, "SELECT id FROM cycle ORDER BY id"))
                .isEqualTo(Yard.column(outbox, CYCLES));
        assertThat(Yard.column(database, "SELECT reason FROM set_aside")).isEmpty();

        int last = Integer.parseInt(Yard.column(outbox, "SELECT last_sequence FROM outbox").get(0));
        assertThat(Yard.column(database, "SELECT sequence FROM outbox_number ORDER BY sequence"))
                .as("no number missing, none twice")
                .isEqualTo(IntStream.rangeClosed(1, last).mapToObj(String::valueOf).toList());
    }

    private static final String CYCLES =
            "SELECT message_id FROM message WHERE kind = 'CYCLE' COLLATE NOCASE ORDER BY message_id";
    private static final String UNRELEASED =
            "SELECT message_id FROM message WHERE released_at_ms IS NULL";
}
