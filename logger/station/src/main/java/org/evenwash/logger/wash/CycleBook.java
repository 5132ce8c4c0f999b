package org.evenwash.logger.wash;

import java.util.UUID;
import org.evenwash.logger.store.CycleLine;
import org.evenwash.logger.store.Cycles;
import org.evenwash.logger.store.Listing;
import org.evenwash.logger.store.Page;
import org.evenwash.logger.store.UnassignedCycle;
import org.evenwash.logger.store.WashPass;
import org.evenwash.logger.store.Washes;
import org.evenwash.record.CycleRecord;
import org.evenwash.record.Pass;
import org.evenwash.record.Position;
import org.jdbi.v3.core.Handle;

/** Cycles that benches have run, and the washes that they belong to. */
public final class CycleBook {
    private final Desk desk;

    CycleBook(Desk desk) {
        this.desk = desk;
    }

    /** Newest first; of all benches when {@code benchId} is null. */
    public Listing<CycleLine> list(String benchId, Page page) {
        return desk.read(handle -> Cycles.list(handle, benchId, page));
    }

    public CycleLine cycle(UUID cycleId) {
        return desk.read(handle -> cycle(handle, cycleId));
    }

    private static CycleLine cycle(Handle handle, UUID cycleId) {
        return Cycles.find(handle, Entry.present("cycle", cycleId))
                .orElseThrow(() -> Refused.notFound("cycle", cycleId));
    }

    /** The record as the bench wrote it, with bouts, interruptions and speed trace. */
    public CycleRecord record(UUID cycleId) {
        return desk.read(handle -> Cycles.record(handle, Entry.present("cycle", cycleId)))
                .orElseThrow(() -> Refused.notFound("cycle", cycleId));
    }

    /** Jar positions that no wash has claimed, newest first. */
    public Listing<UnassignedCycle> unassigned(Page page) {
        return desk.read(handle -> Cycles.unassigned(handle, page));
    }

    /** Ties a jar position of a cycle to a pass of a wash. */
    public void attach(UUID cycleId, int position, UUID washId, Pass kind, By by) {
        desk.onceAt(
                by,
                "attach cycle and position",
                cycleId + " " + position,
                cycleId,
                handle -> {
                    CycleLine cycle = cycle(handle, cycleId);
                    checkPosition(handle, cycleId, position);
                    WashBook.wash(handle, washId);
                    WashPass pass = Washes.pass(handle, washId, Entry.present("pass", kind));
                    if (!Cycles.attach(
                            handle, cycleId, position, pass.id(), by.operatorId(), desk.now())) {
                        throw Refused.conflict(
                                "cycle",
                                "belongs to a wash already at jar position " + position,
                                "detach it there first");
                    }
                    if (cycle.simulated()) {
                        Washes.markSimulated(handle, washId);
                    }
                    changes(handle, by, cycleId, position, washId, "attached")
                            .field(kind + " pass", null, cycleId)
                            .done();
                });
    }

    private static void checkPosition(Handle handle, UUID cycleId, int position) {
        boolean used =
                Cycles.record(handle, cycleId).orElseThrow().positions().stream()
                        .mapToInt(Position::position)
                        .anyMatch(one -> one == position);
        if (!used) {
            throw Refused.invalid(
                    "jar position",
                    position + " was not in use in this cycle",
                    "choose one of the cycle's positions");
        }
    }

    /**
     * Unties a jar position; the cycle waits among the unassigned ones again.
     *
     * @return the wash that it belonged to
     */
    public UUID detach(UUID cycleId, int position, String why, By by) {
        String reason = Entry.why(why);
        return desk.read(handle -> Cycles.passOf(handle, cycleId, position))
                .map(passId -> detach(cycleId, position, passId, reason, by))
                .orElseThrow(CycleBook::nothingToDetach);
    }

    private UUID detach(UUID cycleId, int position, UUID passId, String reason, By by) {
        desk.onceAt(
                by,
                "detach cycle and position",
                cycleId + " " + position,
                cycleId,
                handle -> {
                    WashPass pass = Washes.findPass(handle, passId).orElseThrow();
                    if (!Cycles.detach(handle, cycleId, position)) {
                        throw nothingToDetach();
                    }
                    Cycles.leaveUnassigned(handle, cycleId, position, pass.kind());
                    changes(handle, by, cycleId, position, pass.washId(), reason)
                            .field(pass.kind() + " pass", cycleId, null)
                            .done();
                });
        return desk.read(handle -> Washes.findPass(handle, passId).orElseThrow().washId());
    }

    private static Refused nothingToDetach() {
        return Refused.conflict("cycle", "belongs to no wash", "there is nothing to detach");
    }

    /** The jar position at which a cycle belongs to a pass. */
    public int position(UUID cycleId, UUID passId) {
        return desk.read(handle -> Cycles.positionIn(handle, cycleId, passId))
                .orElseThrow(() -> Refused.notFound("cycle of this pass", cycleId));
    }

    private Desk.Changes changes(
            Handle handle, By by, UUID cycleId, int position, UUID washId, String why) {
        return desk.new Changes(handle, by, "cycle at jar " + position, cycleId, washId, 1, why);
    }
}
