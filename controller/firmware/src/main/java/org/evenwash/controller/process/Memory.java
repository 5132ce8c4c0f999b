package org.evenwash.controller.process;

import java.util.ArrayList;
import java.util.List;
import java.util.UUID;

/**
 * What the bench remembers between cycles: acknowledgements, whose jar is still in, which signals
 * were seen to move, and when the stop chain was last proven.
 *
 * @param lidOpened the lid was seen open since the last cycle ended
 * @param tacho whether the tachometer was seen to move when the shaft was driven
 */
record Memory(
        Said said,
        Empty empty,
        boolean lidOpened,
        Tacho tacho,
        Previous previous,
        ProofRecord proof) {

    /**
     * What the operator said at the panel.
     *
     * @param cautionsAt_ns uptime of the last acknowledgement, {@link #NEVER} without one
     * @param warm the operator goes on near the flash point, in the next cycle or this one
     * @param reuse what was said about a jar that stays in
     */
    record Said(long cautionsAt_ns, boolean warm, Reuse reuse) {
        static final Said NOTHING = new Said(NEVER, false, Reuse.NONE);

        Said cautions(long uptime_ns) {
            return new Said(uptime_ns, warm, reuse);
        }

        Said warm(boolean acknowledged) {
            return new Said(cautionsAt_ns, acknowledged, reuse);
        }

        Said of(Reuse jar) {
            return new Said(cautionsAt_ns, warm, jar);
        }
    }

    enum Reuse {
        NONE,
        SAME_JAR,
        SECOND_WASH
    }

    /**
     * Positions without a jar, a bit for each.
     *
     * @param seen since the last start
     * @param now what reads empty, not yet long enough to be believed
     * @param since_ns since when {@code now} has been the same
     */
    record Empty(int seen, int now, long since_ns) {
        static final Empty NONE = since(0);

        static Empty since(long uptime_ns) {
            return new Empty(0, 0, uptime_ns);
        }

        Empty next(int reads, long uptime_ns) {
            if (reads != now) {
                return new Empty(seen, reads, uptime_ns);
            }
            boolean believed = uptime_ns - since_ns >= EMPTY_AFTER_NS;
            boolean news = (reads & ~seen) != 0;
            return believed && news ? new Empty(seen | reads, reads, since_ns) : this;
        }
    }

    /**
     * The last cycle begun.
     *
     * @param cycle null when unknown
     */
    record Previous(UUID cycle, List<Position> jars) {
        Previous {
            jars = List.copyOf(jars);
        }
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
                Said.NOTHING,
                Empty.NONE,
                true,
                Tacho.MOVED,
                new Previous(previousCycle, positions),
                proof);
    }

    boolean cautionsDue(Settings settings, Inputs in) {
        return said.cautionsAt_ns == NEVER
                || in.uptime_ns() - said.cautionsAt_ns > settings.safety().cautionsHold().toNanos();
    }

    boolean jarLeftBehind(Settings settings) {
        return said.reuse == Reuse.NONE && (settings.allPositions() & ~empty.seen) != 0;
    }

    boolean jarStuck(int jars) {
        return said.reuse == Reuse.SECOND_WASH && (jars & ~empty.seen) != 0;
    }

    boolean lidStuck() {
        return said.reuse != Reuse.SAME_JAR && !lidOpened;
    }

    boolean tachoStuck() {
        return !tacho.moved && tacho.still_ns >= STUCK_AFTER_NS;
    }

    /** The jars of a job: one that stays in, or comes back for its second wash, keeps its wash. */
    List<Position> whose(Job job) {
        if (said.reuse == Reuse.NONE) {
            return job.positions();
        }
        List<Position> positions = new ArrayList<>();
        for (Position wanted : job.positions()) {
            Position jar = wanted;
            for (Position earlier : previous.jars) {
                boolean same = earlier.position() == wanted.position();
                jar = same && wanted.ticketId() == null ? earlier : jar;
            }
            positions.add(said.reuse == Reuse.SECOND_WASH ? jar.secondWash() : jar);
        }
        return positions;
    }

    /** What one scan adds. The same object when that is nothing. */
    Memory seen(Machine m, Inputs in) {
        Tacho tachoSeen = tacho(m, in);
        if (m.cycle().running()) {
            return tachoSeen.equals(tacho) ? this : with(tachoSeen);
        }
        int reads = in.readings().jarsAbsent(m.settings().allPositions());
        Empty emptyNow = empty.next(reads, in.uptime_ns());
        boolean opened = lidOpened || in.readings().lid() == Contact.OPEN;
        if (emptyNow.equals(empty) && opened == lidOpened && tachoSeen.equals(tacho)) {
            return this;
        }
        // A jar that was taken out is no longer "the same jar again".
        boolean takenOut = said.reuse == Reuse.SAME_JAR && emptyNow.seen != empty.seen;
        Said still = takenOut ? said.of(Reuse.NONE) : said;
        return new Memory(still, emptyNow, opened, tachoSeen, previous, proof);
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
        return new Memory(said, empty, lidOpened, seen, previous, proof);
    }

    private Memory with(Said words) {
        return new Memory(words, empty, lidOpened, tacho, previous, proof);
    }

    /** What the operator said at the panel. */
    Memory chosen(Choice choice, Machine m, Inputs in) {
        boolean between = !m.cycle().running();
        return switch (choice) {
            case ACKNOWLEDGE_CAUTIONS -> with(said.cautions(in.uptime_ns()));
            // Only a warning that is being given can be acknowledged, never one to come.
            case ACKNOWLEDGE_WARM_SPIRIT ->
                    m.warm(in) && !m.settings().safety().refuseWarmSpirit()
                            ? with(said.warm(true))
                            : this;
            case SAME_JAR_AGAIN -> between ? with(said.of(Reuse.SAME_JAR)) : this;
            case SECOND_WASH -> between ? with(said.of(Reuse.SECOND_WASH)) : this;
            case NONE, PROOF_TEST, SILENCE -> this;
        };
    }

    Memory started(Cycle cycle) {
        return new Memory(
                said.of(Reuse.NONE),
                Empty.NONE,
                lidOpened,
                tacho,
                new Previous(cycle.id(), cycle.job().positions()),
                proof.cycleStarted());
    }

    /** An acknowledgement of warm spirit was for this cycle; the lid must be seen open anew. */
    Memory ended(long uptime_ns) {
        return new Memory(said.warm(false), Empty.since(uptime_ns), false, tacho, previous, proof);
    }

    Memory proven(ProofRecord record) {
        return new Memory(said, empty, lidOpened, tacho, previous, record);
    }
}
