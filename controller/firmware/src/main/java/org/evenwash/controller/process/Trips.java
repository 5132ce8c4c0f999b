package org.evenwash.controller.process;

import java.util.ArrayList;
import java.util.List;

/**
 * Which rows are violated, since when, and which have tripped. A <i>trip</i> is an interlock that
 * has fired and latched. Bits stand for rows, so that a quiet scan allocates nothing.
 */
public final class Trips {
    static final Trips NONE = new Trips(0, 0, new long[Interlocks.count()]);

    private final long violated;
    private final long active;
    private final long[] since_ns;

    private Trips(long violated, long active, long[] since_ns) {
        this.violated = violated;
        this.active = active;
        this.since_ns = since_ns;
    }

    /** One scan: what is violated now, what has lasted long enough to trip, what has cleared. */
    Trips scan(Machine before, Inputs in, boolean reset) {
        long now = Interlocks.violated(before, in);
        long[] since = now == violated ? since_ns : since(now, in.uptime_ns());
        long clearing = reset ? ~now : ~now & Interlocks.BY_ITSELF_ROWS;
        long tripped = active & ~clearing;
        for (long left = now & ~tripped; left != 0; left &= left - 1) {
            int i = Long.numberOfTrailingZeros(left);
            boolean lasted = in.uptime_ns() - since[i] >= Interlocks.persists_ns(i);
            if (lasted && Interlocks.row(i).armed(before.state())) {
                tripped |= 1L << i;
            }
        }
        return now == violated && tripped == active ? this : new Trips(now, tripped, since);
    }

    private long[] since(long now, long uptime_ns) {
        long[] since = since_ns.clone();
        for (long left = now & ~violated; left != 0; left &= left - 1) {
            since[Long.numberOfTrailingZeros(left)] = uptime_ns;
        }
        return since;
    }

    /** The strongest command that any trip asks for. */
    Command demand() {
        Command strongest = Command.NONE;
        for (long left = active; left != 0; left &= left - 1) {
            Command asked = Interlocks.row(Long.numberOfTrailingZeros(left)).asks();
            strongest = Command.strongest(strongest, asked);
        }
        return strongest;
    }

    /** A safety row has tripped: the drive goes off in this scan, without a ramp. */
    public boolean safety() {
        return (active & Interlocks.SAFETY_ROWS) != 0;
    }

    /** Rows that tripped since {@code earlier}. */
    long firedSince(Trips earlier) {
        return active & ~earlier.active;
    }

    /** Rows that cleared since {@code earlier}. */
    long clearedSince(Trips earlier) {
        return earlier.active & ~active;
    }

    /** The first listed of the rows that ask for {@code command}; null when none does. */
    String cause(Command command) {
        for (long left = active; left != 0; left &= left - 1) {
            Interlock row = Interlocks.row(Long.numberOfTrailingZeros(left));
            if (row.asks() == command) {
                return row.tag();
            }
        }
        return null;
    }

    /** Violated or still latched: what stands against a START. */
    long againstStart() {
        return violated | active;
    }

    /** What stands against going on after a hold: the same without the rows for a start alone. */
    long againstRestart() {
        return (violated | active) & ~Interlocks.START_ONLY_ROWS;
    }

    public boolean active(String tag) {
        return active(Interlocks.index(tag));
    }

    boolean active(int row) {
        return (active & 1L << row) != 0;
    }

    public boolean violated(String tag) {
        return (violated & 1L << Interlocks.index(tag)) != 0;
    }

    /** Rows that have tripped, in the table's order. */
    public List<Interlock> active() {
        return rows(active);
    }

    static List<Interlock> rows(long bits) {
        List<Interlock> rows = new ArrayList<>();
        for (long left = bits; left != 0; left &= left - 1) {
            rows.add(Interlocks.row(Long.numberOfTrailingZeros(left)));
        }
        return List.copyOf(rows);
    }
}
