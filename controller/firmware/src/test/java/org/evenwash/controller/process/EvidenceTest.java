package org.evenwash.controller.process;

import static java.time.Duration.ofMillis;
import static java.time.Duration.ofMinutes;
import static java.time.Duration.ofSeconds;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.evenwash.controller.process.Entry.Kind.CLEAR;
import static org.evenwash.controller.process.Entry.Kind.TRIP;

import java.time.Duration;
import java.util.List;
import org.evenwash.controller.sim.Fault;
import org.evenwash.controller.sim.SimulatedBench;
import org.junit.jupiter.api.Test;

/** The record says what happened. */
class EvidenceTest {
    private static SimulatedBench completed(Recipe recipe) {
        return SimulatedBench.running(recipe).until(State.COMPLETE, ofMinutes(5));
    }

    private static List<String> broken(CycleEvidence record) {
        return record.conformity().stream()
                .filter(p -> !p.held())
                .map(ConformityPoint::point)
                .toList();
    }

    @Test
    void figuresOfABout_areThoseOfTheShaft() {
        SimulatedBench bench = completed(Recipes.TWENTY_SECONDS);
        bench.takeJarsOut().advance(ofSeconds(1));
        CycleEvidence record = bench.onlyRecord();
        BoutEvidence bout = record.bouts().get(0);
        // 17 s at 180 rpm and two ramps of 1.5 s at half of it: 55.5 revolutions.
        assertThat(bout.revolutions()).isCloseTo(55.5, within(1.5));
        assertThat(record.revolutions()).isBetween(bout.revolutions(), bout.revolutions() + 1);
        assertThat(bout.atSpeed()).isBetween(ofMillis(16_980), ofMillis(17_010));
        assertThat(bout.withinTolerance()).isBetween(ofMillis(15_300), bout.atSpeed());
        assertThat(bout.speed().min()).isBetween(120.0, 180.0);
        assertThat(bout.speed().max()).isBetween(180.0, 200.0);
        assertThat(bout.speed().count()).isBetween(1695L, 1702L);
        assertThat(record.spirit().mean()).isEqualTo(5);
        assertThat(record.ambient().max()).isEqualTo(5);
        assertThat(record.motor().min()).isBetween(15.0, 21.0);
        assertThat(record.supply().min()).isBetween(12.3, 12.6);
        assertThat(record.current().max()).isPositive();
        assertThat(record.length()).isBetween(ofMillis(20_000), ofMillis(20_050));
        assertThat(record.scans()).isEqualTo(record.length().toMillis() / 10);
        assertThat(record.endedAt_ms() - record.startedAt_ms())
                .isEqualTo(record.length().toMillis());
        assertThat(record.clockSynchronised()).isTrue();
        assertThat(record.endedBy()).isNull();
        assertThat(record.conformity())
                .extracting(ConformityPoint::evidence)
                .contains("COMPLETE", "1 of 1", "none")
                .anyMatch(e -> e.matches("20\\.0[01]0 s, asked 20\\.000 s"))
                .anyMatch(e -> e.matches("1[67]\\.[0-9] of 17\\.0 s within 10 % of 180 rpm"));
        assertThat(record.continues()).isNull();
    }

    @Test
    void trace_hasOnePointASecond() {
        SimulatedBench bench = completed(Recipes.TWENTY_SECONDS);
        bench.takeJarsOut().advance(ofSeconds(1));
        CycleEvidence.SpeedPoints trace = bench.onlyRecord().trace();
        assertThat(trace.count()).isEqualTo(21);
        assertThat(trace.rpm(0)).isZero();
        assertThat(trace.rpm(10)).isCloseTo(180, within(10f));
        assertThat(trace.toArray()).hasSize(21);
        assertThat(trace).isEqualTo(new CycleEvidence.SpeedPoints(trace.toArray()));
        assertThat(trace).isNotEqualTo(new CycleEvidence.SpeedPoints(1, 2));
        assertThat(trace).hasSameHashCodeAs(new CycleEvidence.SpeedPoints(trace.toArray()));
        assertThat(trace.toString()).startsWith("[0.0, ");
    }

    @Test
    void trace_hasGapsWhereScansWereMissing_andAnEnd() {
        SpeedTrace gap = SpeedTrace.EMPTY.until(0, 1).until(3_000_000_000L, 4);
        assertThat(gap.points_rpm()).containsExactly(1, Float.NaN, Float.NaN, 4);
        assertThat(SpeedTrace.EMPTY.until(Duration.ofDays(9).toNanos(), 1).points_rpm())
                .hasSize(6 * 3600);
    }

    @Test
    void soak_runsFromTheLastAgitationToTheJarsRemoval() {
        SimulatedBench bench = completed(Recipes.TWENTY_SECONDS).advance(ofSeconds(90));
        assertThat(bench.records()).isEmpty();
        bench.takeJarsOut().advance(ofSeconds(1));
        Soak soak = bench.onlyRecord().soaks().get(0);
        assertThat(soak.position()).isEqualTo(1);
        assertThat(soak.removed()).isTrue();
        assertThat(soak.time()).isBetween(ofSeconds(90), ofMillis(90_400));
    }

    @Test
    void soak_isNotedForEachJar() {
        Settings three = Changed.settings(s -> s.positions = 3);
        List<Position> jars = List.of(Position.unassigned(1), Position.unassigned(3));
        Job job = new Job(Recipes.TWENTY_SECONDS, jars, Double.NaN);
        SimulatedBench bench = SimulatedBench.ready(three, job, 1).start();
        bench.until(State.COMPLETE, ofSeconds(30)).advance(ofSeconds(10)).plant().jar(3, false);
        bench.advance(ofSeconds(10));
        assertThat(bench.records()).as("one jar is still in").isEmpty();
        bench.plant().jar(1, false);
        bench.advance(ofSeconds(1));
        List<Soak> soaks = bench.onlyRecord().soaks();
        assertThat(soaks).extracting(Soak::position).containsExactly(3, 1);
        assertThat(soaks.get(0).time()).isBetween(ofSeconds(10), ofMillis(10_500));
        assertThat(soaks.get(1).time()).isBetween(ofSeconds(20), ofMillis(20_500));
    }

    @Test
    void markers_carryTheStoryAsFarAsItGot_soThatARestartCanEndIt() {
        SimulatedBench bench = SimulatedBench.running(Recipes.TWO_MINUTES_IN_THREE_BOUTS);
        bench.advance(ofSeconds(75));
        List<Entry> entries = bench.entries();
        Entry.CycleStarted started =
                (Entry.CycleStarted)
                        entries.stream()
                                .filter(Entry.CycleStarted.class::isInstance)
                                .findFirst()
                                .orElseThrow();
        assertThat(started.soFar().outcome()).isEqualTo(Outcome.UNFINISHED);
        assertThat(started.soFar().bouts()).isEmpty();
        Entry.BoutBoundary boundary =
                (Entry.BoutBoundary)
                        entries.stream()
                                .filter(Entry.BoutBoundary.class::isInstance)
                                .reduce((earlier, later) -> later)
                                .orElseThrow();
        assertThat(boundary.soFar().bouts()).hasSize(1);
        assertThat(boundary.soFar().agitation()).isBetween(ofSeconds(40), ofMillis(40_010));
        assertThat(boundary.soFar().conforms()).isFalse();

        CycleEvidence cut = boundary.soFar().interrupted();
        assertThat(cut.outcome()).isEqualTo(Outcome.INTERRUPTED);
        assertThat(cut.endedBy()).isEqualTo("POWER");
        assertThat(broken(cut)).contains("ran to its end", "all bouts");
        assertThat(cut.conformity().get(1).evidence()).isEqualTo("1 of 3");
    }

    @Test
    void secondsOfABout_areMarkedOnTheWay_butNotWaitedFor() {
        SimulatedBench bench = SimulatedBench.running(Recipes.TWO_MINUTES_IN_THREE_BOUTS);
        long awaited = bench.machine().journal().awaited();
        bench.advance(ofMillis(12_500));
        Entry last = bench.entries().get(bench.entries().size() - 1);
        assertThat(last).isInstanceOf(Entry.BoutUnderWay.class);
        CycleEvidence soFar = ((Entry.BoutUnderWay) last).soFar();
        assertThat(soFar.outcome()).isEqualTo(Outcome.UNFINISHED);
        assertThat(soFar.agitation()).isBetween(ofMillis(11_000), ofMillis(12_500));
        assertThat(soFar.bouts()).hasSize(1);
        assertThat(soFar.bouts().get(0).revolutions()).isPositive();
        assertThat(soFar.trace().count()).isEqualTo(13);
        assertThat(bench.machine().journal().awaited()).isEqualTo(awaited);

        bench.press(Command.HOLD).until(State.HELD, ofSeconds(10));
        int held = bench.entries().size();
        bench.advance(ofSeconds(10));
        assertThat(bench.entries()).as("nothing new while it stands").hasSize(held);
    }

    @Test
    void markerBeforeTheRecord_alreadyKnowsTheOutcome() {
        SimulatedBench bench = completed(Recipes.TWENTY_SECONDS);
        List<Entry> entries = bench.entries();
        Entry.BoutBoundary last = (Entry.BoutBoundary) entries.get(entries.size() - 1);
        assertThat(last.soFar().outcome()).isEqualTo(Outcome.COMPLETE);
        assertThat(last.soFar().soaks()).isEmpty();
        bench.takeJarsOut().advance(ofSeconds(1));
        assertThat(bench.entries().get(bench.entries().size() - 1))
                .isInstanceOf(Entry.CycleFinished.class);
    }

    @Test
    void weakMotor_isSeenInTheTimeWithinTolerance() {
        Recipe fast =
                new Recipe(
                        "fast",
                        "Fast",
                        1,
                        List.of(new Bout(ofSeconds(20), 290, ofSeconds(1), Duration.ZERO, false)),
                        1,
                        new Tolerances(ofMillis(200), ofSeconds(2), 0.10, 0.90),
                        ofMinutes(1));
        SimulatedBench bench = SimulatedBench.ready(fast).start().advance(ofSeconds(5));
        bench.plant().pushShaft(330);
        bench.advance(ofSeconds(10)).plant().pushShaft(0);
        bench.until(State.COMPLETE, ofSeconds(30)).takeJarsOut().advance(ofSeconds(1));
        CycleEvidence record = bench.onlyRecord();
        assertThat(broken(record)).containsExactly("bout 1: speed");
        assertThat(record.bouts().get(0).withinTolerance()).isBetween(ofSeconds(6), ofSeconds(9));
    }

    @Test
    void lateScans_areCounted_andDoubtTheTimes() {
        SimulatedBench bench = SimulatedBench.running(Recipes.TWENTY_SECONDS).advance(ofSeconds(5));
        bench.lateScan(ofMillis(20)).lateScan(ofMillis(21)).lateScan(ofMillis(90));
        assertThat(bench.state()).isEqualTo(State.RUNNING);
        bench.lateScan(ofMillis(40)).until(State.COMPLETE, ofSeconds(30));
        bench.takeJarsOut().advance(ofSeconds(1));
        CycleEvidence record = bench.onlyRecord();
        assertThat(record.lateScans()).isEqualTo(3);
        assertThat(record.worstLate()).isEqualTo(ofMillis(80));
        assertThat(broken(record)).containsExactly("watched on time");
        assertThat(record.conformity())
                .extracting(ConformityPoint::evidence)
                .contains("3 of " + record.scans() + " scans late, worst by 80 ms");
    }

    @Test
    void aMissingReading_isLeftOutOfTheFigures() {
        Stat stat = Stat.EMPTY.add(Double.NaN).add(2).add(Double.NaN).add(4).add(3);
        assertThat(stat).isEqualTo(new Stat(2, 4, 9, 3));
        assertThat(stat.mean()).isEqualTo(3);
        SimulatedBench bench = SimulatedBench.running(Recipes.TWENTY_SECONDS).advance(ofSeconds(3));
        bench.fail(Sensor.SPIRIT_TEMPERATURE, Fault.DISCONNECTED).advance(ofMillis(500));
        bench.mend(Sensor.SPIRIT_TEMPERATURE).until(State.COMPLETE, ofSeconds(30));
        bench.takeJarsOut().advance(ofSeconds(1));
        CycleEvidence record = bench.onlyRecord();
        assertThat(record.ambient().count() - record.spirit().count()).isEqualTo(50);
    }

    @Test
    void unsynchronisedClock_isSaidOfTheLabel() {
        SimulatedBench bench = SimulatedBench.running(Recipes.TWENTY_SECONDS).advance(ofSeconds(3));
        bench.clockSynchronised(false).jumpWallClock(Duration.ofDays(-9000));
        bench.until(State.COMPLETE, ofSeconds(30)).takeJarsOut().advance(ofSeconds(1));
        assertThat(bench.onlyRecord().clockSynchronised()).isFalse();
        assertThat(bench.onlyRecord().length()).as("uptime times it").isLessThan(ofSeconds(21));
    }

    @Test
    void waitingForTheOutbox_lengthensTheRest_andIsJudged() {
        SimulatedBench bench = SimulatedBench.running(Recipes.TWO_MINUTES_IN_THREE_BOUTS);
        bench.advance(ofSeconds(39)).stallOutbox(true).advance(ofSeconds(34)).stallOutbox(false);
        bench.until(State.COMPLETE, ofMinutes(5)).takeJarsOut().advance(ofSeconds(1));
        assertThat(bench.onlyRecord().bouts().get(0).rest())
                .isBetween(ofMillis(32_900), ofMillis(33_100));
        assertThat(broken(bench.onlyRecord())).containsExactly("bout 1: rest");
    }

    @Test
    void secondBoutTurnsTheOtherWay_butNeverWhileTheShaftSpins() {
        Bout there = new Bout(ofSeconds(3), 200, Duration.ZERO, Duration.ZERO, false);
        Bout back = new Bout(ofSeconds(3), 200, Duration.ZERO, Duration.ZERO, true);
        Recipe recipe =
                new Recipe("b", "B", 1, List.of(there, back), 1, Tolerances.USUAL, ofMinutes(1));
        SimulatedBench bench = SimulatedBench.ready(recipe).start().advance(ofMillis(3100));
        assertThat(bench.status().step()).isEqualTo(Step.WAIT);
        assertThat(bench.outputs().driveOn()).isFalse();
        while (!bench.outputs().driveOn()) {
            bench.scan();
        }
        assertThat(bench.outputs().reverse()).isTrue();
        assertThat(bench.plant().shaft_rpm()).isLessThan(Interlocks.STANDSTILL_RPM);
    }

    @Test
    void eventsOfAChatteringContact_areBounded_andTheRestIsCounted() {
        SimulatedBench bench = SimulatedBench.ready(Recipes.TWENTY_SECONDS);
        int before = bench.events().size();
        for (int i = 0; i < 200; i++) {
            bench.pressEStop().scan().releaseEStop().scan().press(Command.RESET);
        }
        assertThat(bench.events().size() - before).isBetween(50, Journal.EVENTS_A_MINUTE);
        bench.advance(ofSeconds(61));
        List<Entry.BenchEvent> events = bench.events();
        Entry.BenchEvent last = events.get(events.size() - 1);
        assertThat(last.kind()).isEqualTo(Entry.Kind.EVENTS_LEFT_OUT);
        assertThat(last.text()).matches("[0-9]{2,3} events left out");
        long serial = 0;
        for (Entry entry : bench.entries()) {
            assertThat(entry.serial()).isEqualTo(++serial);
        }
    }

    @Test
    void boutsBegin_whereTheRecordSays() {
        SimulatedBench bench = completed(Recipes.TWO_MINUTES_IN_THREE_BOUTS).changeJars();
        List<Duration> begun = bench.onlyRecord().bouts().stream().map(BoutEvidence::at).toList();
        assertThat(begun.get(0)).isBetween(Duration.ZERO, ofMillis(50));
        assertThat(begun.get(1)).isBetween(ofSeconds(70), ofMillis(70_100));
        assertThat(begun.get(2)).isBetween(ofSeconds(140), ofMillis(140_150));
    }

    @Test
    void marker_vouchesForItsClock_onlyWhenItWasRightAtBothEnds() {
        SimulatedBench bench = SimulatedBench.running(Recipes.TWENTY_SECONDS).advance(ofSeconds(3));
        assertThat(newestMarker(bench).clockSynchronised()).isTrue();
        bench.clockSynchronised(false).advance(ofSeconds(1));
        assertThat(newestMarker(bench).clockSynchronised()).isFalse();
        SimulatedBench mended = unsynchronisedStart();
        mended.clockSynchronised(true).advance(ofSeconds(3));
        assertThat(newestMarker(mended).clockSynchronised()).isFalse();
    }

    /** Begun while the clock was unsure, which a proof of the same boot does not mind. */
    private static SimulatedBench unsynchronisedStart() {
        SimulatedBench bench = MachineEdgesTest.provenNow();
        bench.clockSynchronised(false).start();
        assertThat(bench.state()).isEqualTo(State.RUNNING);
        return bench;
    }

    private static CycleEvidence newestMarker(SimulatedBench bench) {
        List<Entry> entries = bench.entries();
        return ((Entry.BoutUnderWay) entries.get(entries.size() - 1)).soFar();
    }

    @Test
    void afterTenMinutes_everyTenthSecondIsMarked() {
        Bout eleven = new Bout(ofMinutes(11), 100, ofSeconds(1), Duration.ZERO, false);
        SimulatedBench bench = SimulatedBench.running(continuous(eleven, Tolerances.USUAL));
        bench.until(State.COMPLETE, ofMinutes(12));
        List<Integer> marked =
                bench.entries().stream()
                        .filter(Entry.BoutUnderWay.class::isInstance)
                        .map(entry -> ((Entry.BoutUnderWay) entry).soFar().trace().count())
                        .toList();
        assertThat(marked).containsSequence(598, 599, 600, 610, 620, 630, 640, 650, 660);
    }

    private static Recipe continuous(Bout bout, Tolerances tolerances) {
        return new Recipe("c", "C", 1, List.of(bout), 1, tolerances, ofMinutes(1));
    }

    @Test
    void rampsThatMeet_leaveNoSpeedToKeep() {
        Bout peak = new Bout(ofSeconds(3), 180, ofMillis(1500), Duration.ZERO, false);
        Tolerances narrow = new Tolerances(ofMillis(200), ofSeconds(2), 0.01, 0.90);
        SimulatedBench bench = completed(continuous(peak, narrow)).changeJars();
        assertThat(bench.onlyRecord().bouts().get(0).withinTolerance()).isZero();
        assertThat(broken(bench.onlyRecord())).isEmpty();
    }

    @Test
    void boutThatNeverGotToItsSpeed_didNotKeepIt() {
        SimulatedBench bench = SimulatedBench.running(Recipes.TWENTY_SECONDS).advance(ofSeconds(1));
        bench.press(Command.STOP).until(State.STOPPED, ofSeconds(5)).changeJars();
        assertThat(bench.onlyRecord().bouts().get(0).atSpeed()).isZero();
        assertThat(broken(bench.onlyRecord()))
                .contains("ran to its end", "bout 1: agitation time", "bout 1: speed");
    }

    @Test
    void exactlyWhatTheRecipeTolerates_isStillHeld() {
        Tolerances strict = new Tolerances(ofMillis(10), ofMillis(10), 0.5, 1);
        Bout bout = new Bout(ofSeconds(15), 60, ofSeconds(1), ofSeconds(5), false);
        SimulatedBench bench = SimulatedBench.running(continuous(bout, strict));
        bench.advance(Duration.ofNanos(14_990_000_000L - agitated_ns(bench)));
        bench.lateScan(ofMillis(20));
        bench.advance(ofMillis(4_990)).lateScan(ofMillis(20)).changeJars();
        CycleEvidence record = bench.onlyRecord();
        BoutEvidence was = record.bouts().get(0);
        assertThat(was.agitation()).isEqualTo(ofMillis(15_010));
        assertThat(was.rest()).isEqualTo(ofMillis(5_010));
        assertThat(was.withinTolerance()).as("all of it").isEqualTo(was.atSpeed());
        assertThat(broken(record)).isEmpty();
    }

    @Test
    void oneLateScanInAThousand_doubtsNoTime() {
        Bout bout = new Bout(ofMillis(10_020), 100, ofSeconds(1), Duration.ZERO, false);
        SimulatedBench bench = SimulatedBench.running(continuous(bout, Tolerances.USUAL));
        bench.advance(ofSeconds(5)).lateScan(ofMillis(50)).until(State.COMPLETE, ofSeconds(6));
        bench.changeJars();
        assertThat(bench.onlyRecord().scans()).isEqualTo(1000);
        assertThat(bench.onlyRecord().lateScans()).isEqualTo(1);
        assertThat(broken(bench.onlyRecord())).isEmpty();
    }

    private static long agitated_ns(SimulatedBench bench) {
        return bench.machine().cycle().progress().agitated_ns();
    }

    @Test
    void warmSpiritThatNobodyAcknowledged_isNotSaidToBe() {
        SimulatedBench bench = SimulatedBench.running(Recipes.TWENTY_SECONDS);
        for (int i = 0; i < 10; i++) {
            assertThat(bench.scan().machine().cycle().facts().warmAcknowledged()).isFalse();
        }
    }

    @Test
    void warmSpirit_isEnteredOnce_howeverLongItIsAcknowledged() {
        SimulatedBench bench = SimulatedBench.ready(Recipes.TWENTY_SECONDS);
        bench.plant().spirit_C(9);
        bench.advance(ofMillis(50)).choose(Choice.ACKNOWLEDGE_WARM_SPIRIT).advance(ofSeconds(2));
        assertThat(bench.events())
                .filteredOn(e -> e.kind() == Entry.Kind.ACKNOWLEDGED)
                .extracting(Entry.BenchEvent::tag)
                .containsExactly("CAUTIONS", "SPIRIT-WARM");
    }

    @Test
    void chatteringContact_isBoundedInEveryMinute_andCountedWhenTheMinuteIsOver() {
        SimulatedBench bench = SimulatedBench.ready(Recipes.TWENTY_SECONDS).advance(ofMinutes(10));
        int before = bench.events().size();
        for (int i = 0; i < 200; i++) {
            bench.pressEStop().scan().releaseEStop().scan().press(Command.RESET);
        }
        List<Entry.BenchEvent> kept = bench.events().subList(before, bench.events().size());
        assertThat(kept).hasSize(Journal.EVENTS_A_MINUTE);
        assertThat(kept).extracting(Entry.BenchEvent::kind).containsOnly(TRIP, CLEAR);
        long began_ns = kept.get(0).uptime_ns();
        bench.advance(ofMinutes(1));
        Entry.BenchEvent last = bench.events().get(bench.events().size() - 1);
        assertThat(last.text()).isEqualTo(2 * 200 - Journal.EVENTS_A_MINUTE + " events left out");
        assertThat(last.uptime_ns() - began_ns).isEqualTo(ofMinutes(1).toNanos());
        int counted = bench.events().size();
        bench.advance(ofMinutes(2)).pressEStop().scan();
        assertThat(bench.events()).as("a quiet minute leaves nothing out").hasSize(counted + 1);
    }

    @Test
    void recordThatStillWaits_leavesBeforeTheNextCyclesMarker() {
        SimulatedBench waiting = completed(Recipes.TWENTY_SECONDS);
        SimulatedBench other = completed(Recipes.TWENTY_SECONDS).changeJars();
        other.press(Command.RESET).scan().start();
        assertThat(other.state()).isEqualTo(State.RUNNING);
        long serial = waiting.machine().journal().count();
        List<Entry> left = Journal.of(waiting.machine(), other.machine(), waiting.inputs()).fresh();
        CycleEvidence record = ((Entry.CycleFinished) left.get(0)).evidence();
        assertThat(record.cycleId()).isEqualTo(waiting.machine().cycle().id());
        assertThat(record.soaks()).extracting(Soak::removed).containsExactly(false);
        assertThat(((Entry.CycleStarted) left.get(1)).soFar().cycleId())
                .isEqualTo(other.machine().cycleId());
        assertThat(left).extracting(Entry::serial).startsWith(serial + 1, serial + 2);
    }
}
