package org.evenwash.logger.intake;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Instant;
import java.util.List;
import java.util.UUID;
import java.util.stream.Stream;
import org.evenwash.record.BenchState;
import org.evenwash.record.LiveReading;
import org.junit.jupiter.api.Test;

/** A running cycle is remembered once a second, within a bound, and forgotten with the next. */
class LiveTraceTest {
    private static final Instant NOW = Instant.parse("2031-05-20T12:00:00Z");
    private final BenchBoard board = new BenchBoard();

    private static LiveReading live(UUID cycle, int bout, double elapsed_s, Double speed_rpm) {
        return new LiveReading(
                LiveReading.SCHEMA,
                "shed-1",
                cycle,
                BenchState.State.RUNNING,
                "AGITATE",
                bout,
                2,
                elapsed_s,
                100,
                10,
                180,
                speed_rpm,
                null,
                null);
    }

    @Test
    void fourReadingsASecond_areKeptOnceASecond_andAMissingOneIsNoZero() {
        UUID cycle = new UUID(1, 1);
        for (int quarter = 0; quarter < 12; quarter++) {
            Double speed = quarter == 4 ? null : Double.valueOf(170 + quarter);
            board.put(live(cycle, 1, quarter / 4.0, speed), NOW);
        }
        List<LiveTrace.Point> points = board.traceOf("shed-1").orElseThrow().points();
        assertThat(points)
                .extracting(LiveTrace.Point::speed_rpm)
                .containsExactly(170.0, 175.0, 179.0);
    }

    @Test
    void nextCycle_beginsAfresh_andIdleForgets() {
        board.put(live(new UUID(1, 1), 1, 5, 180.0), NOW);
        board.put(live(new UUID(2, 2), 1, 1, 90.0), NOW);
        assertThat(board.traceOf("shed-1").orElseThrow().points())
                .containsExactly(new LiveTrace.Point(1, 90));
        board.put(BenchState.offline("shed-1", true), NOW);
        assertThat(board.traceOf("shed-1")).isEmpty();
    }

    @Test
    void veryLongCycle_keepsItsLatestHour() {
        UUID cycle = new UUID(1, 1);
        for (int second = 0; second <= LiveTrace.MOST_READINGS + 10; second++) {
            board.put(live(cycle, 1, second, 180.0), NOW);
        }
        List<LiveTrace.Point> points = board.traceOf("shed-1").orElseThrow().points();
        assertThat(points).hasSize(LiveTrace.MOST_READINGS);
        assertThat(points.get(0).at_s()).isEqualTo(11);
    }

    private static LiveReading live(UUID cycle, BenchState.State state, double elapsed_s) {
        return new LiveReading(
                LiveReading.SCHEMA,
                "shed-1",
                cycle,
                state,
                null,
                1,
                2,
                elapsed_s,
                100,
                10,
                180,
                0.0,
                null,
                null);
    }

    private static BenchState state(BenchState.State state, UUID cycle, String... reasons) {
        return new BenchState(
                BenchState.SCHEMA,
                "shed-1",
                null,
                true,
                null,
                NOW,
                null,
                state,
                cycle,
                null,
                List.of(),
                Stream.of(reasons)
                        .map(
                                reason ->
                                        new BenchState.TrippedInterlock(
                                                "TAG", "safety", reason, "see to it", true))
                        .toList(),
                List.of(),
                true,
                null,
                null);
    }

    private List<LiveTrace.Cut> cuts() {
        return board.traceOf("shed-1").orElseThrow().cuts();
    }

    @Test
    void hold_isACutWithItsCause_thatGrowsUntilItGoesOn() {
        UUID cycle = new UUID(1, 1);
        board.put(live(cycle, 1, 10, 180.0), NOW);
        board.put(state(BenchState.State.HOLDING, cycle, "The lid is open."), NOW);
        board.put(live(cycle, BenchState.State.HOLDING, 12), NOW);
        board.put(live(cycle, BenchState.State.HELD, 14), NOW);
        assertThat(cuts()).containsExactly(new LiveTrace.Cut(12, 2, "The lid is open.", false));

        board.put(state(BenchState.State.RESTARTING, cycle), NOW);
        board.put(live(cycle, BenchState.State.RESTARTING, 20), NOW);
        board.put(state(BenchState.State.RUNNING, cycle), NOW);
        board.put(live(cycle, 1, 21, 90.0), NOW);
        board.put(live(cycle, 1, 30, 180.0), NOW);
        assertThat(cuts()).containsExactly(new LiveTrace.Cut(12, 9, "The lid is open.", true));
    }

    @Test
    void causeToldAfterTheFirstReading_isStillItsCause_andTheFirstOneIsKept() {
        UUID cycle = new UUID(1, 1);
        board.put(live(cycle, BenchState.State.HELD, 12), NOW);
        board.put(state(BenchState.State.HELD, cycle, "The lid is open."), NOW);
        board.put(state(BenchState.State.HELD, cycle, "The jar is loose."), NOW);
        assertThat(cuts()).extracting(LiveTrace.Cut::cause).containsExactly("The lid is open.");
    }

    @Test
    void holdByHand_hasNoCause_andTheNextHoldIsACutOfItsOwn() {
        UUID cycle = new UUID(1, 1);
        board.put(state(BenchState.State.HELD, cycle), NOW);
        board.put(live(cycle, BenchState.State.HELD, 12), NOW);
        board.put(live(cycle, 1, 15, 180.0), NOW);
        board.put(live(cycle, BenchState.State.STOPPING, 40), NOW);
        board.put(live(cycle, BenchState.State.STOPPING, 42), NOW);
        assertThat(cuts())
                .containsExactly(
                        new LiveTrace.Cut(12, 3, null, true),
                        new LiveTrace.Cut(40, 0, null, false));
    }

    @Test
    void eachBout_isKnownByWhenItWasFirstHeard() {
        UUID cycle = new UUID(1, 1);
        board.put(live(cycle, 1, 0.5, 180.0), NOW);
        board.put(live(cycle, 2, 71, 180.0), NOW);
        board.put(live(cycle, 2, 72, 180.0), NOW);
        assertThat(board.traceOf("shed-1").orElseThrow().boutStarts())
                .containsEntry(1, 0.5)
                .containsEntry(2, 71.0);
    }
}
