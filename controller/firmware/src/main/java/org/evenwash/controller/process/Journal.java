package org.evenwash.controller.process;

import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.UUID;

/**
 * What the machine wants kept, found by comparing the machine before a scan with the machine after
 * it. So no step can forget to report, and reporting can change no step.
 *
 * @param count entries made since boot; the serial of the last one
 * @param awaited the serial that must be durable before the next bout
 * @param fresh entries of this scan, in order
 */
record Journal(long count, long awaited, List<Entry> fresh, Budget budget) {

    /**
     * A chattering contact must not fill the outbox.
     *
     * @param since_ns when the running minute began
     * @param spent events kept in it
     * @param leftOut events only counted in it
     */
    record Budget(long since_ns, int spent, int leftOut) {}

    static final int EVENTS_A_MINUTE = 60;
    private static final long MINUTE_NS = 60_000_000_000L;

    static final Journal EMPTY = new Journal(0, 0, List.of(), new Budget(0, 0, 0));

    private Journal quiet() {
        return fresh.isEmpty() ? this : new Journal(count, awaited, List.of(), budget);
    }

    /** The journal after this scan. The same object when nothing happened. */
    static Journal of(Machine before, Machine after, Inputs in) {
        Journal quiet = before.journal().quiet();
        long fired = after.trips().firedSince(before.trips());
        long cleared = after.trips().clearedSince(before.trips());
        boolean minuteOver =
                quiet.budget.leftOut > 0 && in.uptime_ns() - quiet.budget.since_ns >= MINUTE_NS;
        boolean nothing =
                fired == 0
                        && cleared == 0
                        && !minuteOver
                        && sameCycle(before, after)
                        && after.proof().step() == before.proof().step()
                        && !acknowledged(before, after);
        return nothing ? quiet : new Scan(before, after, in, quiet).journal(fired, cleared);
    }

    private static boolean sameCycle(Machine before, Machine after) {
        Cycle was = before.cycle();
        Cycle is = after.cycle();
        return was.id().equals(is.id())
                && was.bouts().size() == is.bouts().size()
                && Objects.equals(was.end(), is.end())
                && !secondOver(before, after);
    }

    /** Beyond this a cycle's markers are large, and a memory card is spared: one in ten seconds. */
    private static final int EACH_SECOND_UNTIL_S = 600;

    /** A second more of agitation, as the trace counts them. */
    private static boolean secondOver(Machine before, Machine after) {
        int length = after.cycle().trace().length();
        return after.cycle().running()
                && after.drive().on()
                && length > before.cycle().trace().length()
                && (length <= EACH_SECOND_UNTIL_S || length % 10 == 0);
    }

    private static boolean acknowledged(Machine before, Machine after) {
        return cautions(before, after) || warm(before, after);
    }

    private static boolean cautions(Machine before, Machine after) {
        return before.memory().said().cautionsAt_ns() != after.memory().said().cautionsAt_ns();
    }

    private static boolean warm(Machine before, Machine after) {
        return !before.memory().said().warm() && after.memory().said().warm();
    }

    /** Collects the entries of one eventful scan. */
    private static final class Scan {
        private final Machine before;
        private final Machine after;
        private final Inputs in;
        private final List<Entry> fresh = new ArrayList<>();
        private long count;
        private long awaited;
        private long since_ns;
        private int spent;
        private int leftOut;

        Scan(Machine before, Machine after, Inputs in, Journal quiet) {
            this.before = before;
            this.after = after;
            this.in = in;
            this.count = quiet.count;
            this.awaited = quiet.awaited;
            this.since_ns = quiet.budget.since_ns;
            this.spent = quiet.budget.spent;
            this.leftOut = quiet.budget.leftOut;
        }

        Journal journal(long fired, long cleared) {
            newMinute();
            cycles();
            for (Interlock row : Trips.rows(fired)) {
                event(Entry.Kind.TRIP, row.tag(), row.when());
            }
            for (Interlock row : Trips.rows(cleared)) {
                event(Entry.Kind.CLEAR, row.tag(), row.when());
            }
            if (cautions(before, after)) {
                event(Entry.Kind.ACKNOWLEDGED, "CAUTIONS", "cautions for flammable spirit");
            }
            if (warm(before, after)) {
                event(Entry.Kind.ACKNOWLEDGED, "SPIRIT-WARM", "spirit near its flash point");
            }
            proofTest();
            return new Journal(
                    count, awaited, List.copyOf(fresh), new Budget(since_ns, spent, leftOut));
        }

        private void newMinute() {
            if (in.uptime_ns() - since_ns < MINUTE_NS) {
                return;
            }
            int missed = leftOut;
            since_ns = in.uptime_ns();
            spent = 0;
            leftOut = 0;
            if (missed > 0) {
                event(Entry.Kind.EVENTS_LEFT_OUT, "EVENTS", missed + " events left out");
            }
        }

        private void cycles() {
            Cycle was = before.cycle();
            Cycle is = after.cycle();
            if (!was.id().equals(is.id())) {
                if (!was.end().recorded()) {
                    fresh.add(
                            new Entry.CycleFinished(
                                    ++count, was.recorded(in.uptime_ns()).evidence(in)));
                }
                fresh.add(new Entry.CycleStarted(++count, is.evidence(in)));
                awaited = count;
                return;
            }
            boolean ended = was.running() && !is.running();
            if (ended || is.bouts().size() > was.bouts().size()) {
                fresh.add(new Entry.BoutBoundary(++count, is.evidence(in)));
                awaited = count;
            } else if (secondOver(before, after)) {
                fresh.add(new Entry.BoutUnderWay(++count, is.evidence(in)));
            }
            boolean recorded = !is.running() && is.end().recorded();
            if (recorded && (was.running() || !was.end().recorded())) {
                fresh.add(new Entry.CycleFinished(++count, is.evidence(in)));
            }
        }

        private void proofTest() {
            ProofTest is = after.proof();
            if (is.step() == before.proof().step()) {
                return;
            }
            String where = before.proof().step().name();
            if (is.step() == ProofTest.Step.PASSED) {
                event(Entry.Kind.PROOF_TEST_PASSED, where, is.step().prompt());
            } else if (is.step() == ProofTest.Step.FAILED) {
                event(Entry.Kind.PROOF_TEST_FAILED, where, is.failure());
            }
        }

        /** The end of a proof test is kept whatever the minute was like: starts depend on it. */
        private void event(Entry.Kind kind, String tag, String text) {
            boolean proof =
                    kind == Entry.Kind.PROOF_TEST_PASSED || kind == Entry.Kind.PROOF_TEST_FAILED;
            if (spent >= EVENTS_A_MINUTE && !proof) {
                leftOut++;
                return;
            }
            spent++;
            UUID cycle = after.cycle().running() ? after.cycle().id() : null;
            fresh.add(
                    new Entry.BenchEvent(
                            ++count,
                            kind,
                            tag,
                            text,
                            cycle,
                            in.uptime_ns(),
                            in.wallClock_ms(),
                            in.clockSynchronised()));
        }
    }
}
