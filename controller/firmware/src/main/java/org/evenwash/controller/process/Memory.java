package org.evenwash.controller.process;

import java.util.ArrayList;
import java.util.List;
import java.util.UUID;

/**
 * What the bench remembers between cycles: acknowledgements, whose jar is still in, which signals
 * were seen to move, and when the stop chain was last proven.
 *
 * @param cautionsAt_ns uptime of the last acknowledgement, {@link #NEVER} without one
 * @param warmAcknowledged the operator goes on near the flash point, in the next cycle or this one
 * @param reuse what was said about a jar that stays in
 * @param seenEmpty positions seen empty since the last start
 * @param emptyNow positions that read empty, not yet long enough to be believed
 * @param emptySince_ns since when {@code emptyNow} has been the same
 * @param lidOpened the lid was seen open since the last cycle ended
 * @param tacho whether the tachometer was seen to move when the shaft was driven
 * @param previousCycle the last one begun, null when unknown
 * @param previousPositions its jars
 */
record Memory(
        long cautionsAt_ns,
        boolean warmAcknowledged,
        Reuse reuse,
        int seenEmpty,
        int emptyNow,
        long emptySince_ns,
        boolean lidOpened,
        Tacho tacho,
        UUID previousCycle,
        List<Position> previousPositions,
        ProofRecord proof) {

    enum Reuse {
        NONE,
        SAME_JAR,
        SECOND_WASH
    }

    /**
     * @param from_rpm its reading when the drive came on
     * @param moved another reading was seen since
     * @param still_ns how long the shaft was driven without one
     */
    record Tacho(double from_rpm, boolean moved, long still_ns) {
        static final Tacho MOVED = new Tacho(0, true, 0);
    }

    static final long NEVER = Long.MIN_VALUE;

    /** A jar contact that lets go for less than this is shaking, not empty. */
    private static final long EMPTY_AFTER_NS = 300_000_000L;

    /** Driven this long, any shaft has changed its speed. */
    private static final long STUCK_AFTER_NS = 1_000_000_000L;

    /** After start-up a jar may have been left in, and nobody has acknowledged anything. */
    static Memory atBoot(UUID previousCycle, List<Position> positions, ProofRecord proof) {
        return new Memory(
                NEVER,
                false,
                Reuse.NONE,
                0,
                0,
                0,
                true,
                Tacho.MOVED,
                previousCycle,
                List.copyOf(positions),
                proof);
    }

    boolean cautionsDue(Settings settings, Inputs in) {
        return cautionsAt_ns == NEVER
                || in.uptime_ns() - cautionsAt_ns > settings.cautionsHold().toNanos();
    }

    boolean jarLeftBehind(Settings settings) {
        return reuse == Reuse.NONE && (settings.allPositions() & ~seenEmpty) != 0;
    }

    boolean jarStuck(int jars) {
        return reuse == Reuse.SECOND_WASH && (jars & ~seenEmpty) != 0;
    }

    boolean lidStuck() {
        return reuse != Reuse.SAME_JAR && !lidOpened;
    }

    boolean tachoStuck() {
        return !tacho.moved && tacho.still_ns >= STUCK_AFTER_NS;
    }

    /** The jars of a job: one that stays in, or comes back for its second wash, keeps its wash. */
    List<Position> whose(Job job) {
        if (reuse == Reuse.NONE) {
            return job.positions();
        }
        List<Position> positions = new ArrayList<>();
        for (Position wanted : job.positions()) {
            Position jar = wanted;
            for (Position earlier : previousPositions) {
                boolean same = earlier.position() == wanted.position();
                jar = same && wanted.ticketId() == null ? earlier : jar;
            }
            positions.add(reuse == Reuse.SECOND_WASH ? jar.secondWash() : jar);
        }
        return positions;
    }

    /** What one scan adds. The same object when that is nothing. */
    Memory seen(Machine m, Inputs in) {
        Tacho tachoSeen = tacho(m, in);
        if (m.cycle().running()) {
            return tachoSeen.equals(tacho) ? this : with(tachoSeen);
        }
        int empty = in.readings().jarsAbsent(m.settings().allPositions());
        boolean same = empty == emptyNow;
        long since_ns = same ? emptySince_ns : in.uptime_ns();
        boolean believed = same && in.uptime_ns() - since_ns >= EMPTY_AFTER_NS;
        int seen = believed ? seenEmpty | empty : seenEmpty;
        boolean opened = lidOpened || in.readings().lid() == Contact.OPEN;
        if (same && seen == seenEmpty && opened == lidOpened && tachoSeen.equals(tacho)) {
            return this;
        }
        // A jar that was taken out is no longer "the same jar again".
        Reuse still = reuse == Reuse.SAME_JAR && seen != seenEmpty ? Reuse.NONE : reuse;
        return new Memory(
                cautionsAt_ns,
                warmAcknowledged,
                still,
                seen,
                empty,
                since_ns,
                opened,
                tachoSeen,
                previousCycle,
                previousPositions,
                proof);
    }

    private Tacho tacho(Machine m, Inputs in) {
        double now_rpm = m.value(Sensor.TACHOMETER, in);
        if (!m.drive().on()) {
            boolean turned = !tacho.moved && Math.abs(now_rpm - tacho.from_rpm) > 1;
            return turned ? Tacho.MOVED : tacho;
        }
        if (m.drive().since_ns() == m.uptime_ns()) {
            return new Tacho(now_rpm, false, 0);
        }
        if (tacho.moved) {
            return tacho;
        }
        boolean moved = Math.abs(now_rpm - tacho.from_rpm) > 1;
        return new Tacho(tacho.from_rpm, moved, tacho.still_ns + m.elapsed_ns(in));
    }

    private Memory with(Tacho seen) {
        return new Memory(
                cautionsAt_ns,
                warmAcknowledged,
                reuse,
                seenEmpty,
                emptyNow,
                emptySince_ns,
                lidOpened,
                seen,
                previousCycle,
                previousPositions,
                proof);
    }

    /** What the operator said at the panel. */
    Memory chosen(Choice choice, Machine m, Inputs in) {
        boolean between = !m.cycle().running();
        return switch (choice) {
            case ACKNOWLEDGE_CAUTIONS -> said(in.uptime_ns(), warmAcknowledged, reuse);
            // Only a warning that is being given can be acknowledged, never one to come.
            case ACKNOWLEDGE_WARM_SPIRIT ->
                    m.warm(in) && !m.settings().refuseWarmSpirit()
                            ? said(cautionsAt_ns, true, reuse)
                            : this;
            case SAME_JAR_AGAIN ->
                    between ? said(cautionsAt_ns, warmAcknowledged, Reuse.SAME_JAR) : this;
            case SECOND_WASH ->
                    between ? said(cautionsAt_ns, warmAcknowledged, Reuse.SECOND_WASH) : this;
            case NONE, PROOF_TEST, SILENCE -> this;
        };
    }

    private Memory said(long cautions_ns, boolean warm, Reuse jar) {
        return new Memory(
                cautions_ns,
                warm,
                jar,
                seenEmpty,
                emptyNow,
                emptySince_ns,
                lidOpened,
                tacho,
                previousCycle,
                previousPositions,
                proof);
    }

    Memory started(Cycle cycle) {
        return new Memory(
                cautionsAt_ns,
                warmAcknowledged,
                Reuse.NONE,
                0,
                0,
                0,
                lidOpened,
                tacho,
                cycle.id(),
                cycle.job().positions(),
                proof.cycleStarted());
    }

    /** An acknowledgement of warm spirit was for this cycle; the lid must be seen open anew. */
    Memory ended(long uptime_ns) {
        return new Memory(
                cautionsAt_ns,
                false,
                reuse,
                0,
                0,
                uptime_ns,
                false,
                tacho,
                previousCycle,
                previousPositions,
                proof);
    }

    Memory proven(ProofRecord record) {
        return new Memory(
                cautionsAt_ns,
                warmAcknowledged,
                reuse,
                seenEmpty,
                emptyNow,
                emptySince_ns,
                lidOpened,
                tacho,
                previousCycle,
                previousPositions,
                record);
    }
}
