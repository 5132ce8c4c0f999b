package org.evenwash.logger.wash;

import java.util.UUID;
import org.evenwash.logger.store.Corrections;
import org.evenwash.logger.store.MiteCount;
import org.evenwash.logger.store.MiteCounts;
import org.evenwash.logger.store.Reports;
import org.evenwash.logger.store.Wash;
import org.evenwash.logger.store.WashPass;
import org.evenwash.logger.store.Washes;
import org.evenwash.record.Ids;
import org.evenwash.record.Pass;
import org.jdbi.v3.core.Handle;

/** Mite counts: entered once, recounted beside, corrected with the earlier value kept. */
public final class Counting {
    /** More than any wash can hold; catches a slipped key. */
    static final int MOST_MITES = 100_000;

    private final Desk desk;

    Counting(Desk desk) {
        this.desk = desk;
    }

    /**
     * Enters the count of a pass.
     *
     * @param countedBy who counted, null if not known
     * @throws Refused if the pass already has one: recount, or correct it
     */
    public MiteCount enter(UUID washId, Pass pass, int mites, UUID countedBy, By by) {
        return add(washId, pass, mites, countedBy, false, false, by);
    }

    /**
     * Enters another count of the same catch.
     *
     * @param blind counted without knowing the earlier count
     */
    public MiteCount recount(
            UUID washId, Pass pass, int mites, UUID countedBy, boolean blind, By by) {
        return add(washId, pass, mites, countedBy, true, blind, by);
    }

    private MiteCount add(
            UUID washId,
            Pass pass,
            int mites,
            UUID countedBy,
            boolean recount,
            boolean blind,
            By by) {
        checkMites(mites);
        Entry.present("pass", pass);
        UUID id = Ids.next();
        UUID done =
                desk.onceAt(
                        by,
                        (recount ? "recount" : "enter") + " mites of wash",
                        washId + " " + pass,
                        id,
                        handle -> {
                            Wash wash = WashBook.wash(handle, washId);
                            WashPass row = Washes.pass(handle, washId, pass);
                            if (recount && MiteCounts.firstOf(handle, row.id()).isEmpty()) {
                                throw Refused.conflict(
                                        "recount",
                                        "has no first count beside it",
                                        "enter it as the first count");
                            }
                            MiteCount count =
                                    new MiteCount(
                                            id,
                                            row.id(),
                                            mites,
                                            countedBy,
                                            desk.now(),
                                            recount,
                                            blind,
                                            1);
                            if (!MiteCounts.insert(handle, count)) {
                                throw alreadyCounted(handle, row);
                            }
                            counted(handle, wash, pass, recount, by);
                        });
        return count(done);
    }

    /** A further count of a wash, or a further wash of a colony or a day, is news to older reports. */
    private void counted(Handle handle, Wash wash, Pass pass, boolean recount, By by) {
        String what =
                (recount ? "a recount" : "a count")
                        + " of the "
                        + Sheets.words(pass)
                        + " of "
                        + wash.sampledOn()
                        + " was entered";
        desk.overtake(
                handle,
                by,
                what,
                wash.id().toString(),
                wash.colonyId().toString(),
                Reports.day(wash.apiaryId(), wash.sampledOn()));
    }

    private static Refused alreadyCounted(Handle handle, WashPass pass) {
        int mites = MiteCounts.firstOf(handle, pass.id()).map(MiteCount::mites).orElse(0);
        return Refused.conflict(
                "mites",
                "of this pass were counted already (" + mites + ")",
                "enter yours as a recount, or correct the first with a reason");
    }

    private static void checkMites(int mites) {
        if (mites < 0 || mites > MOST_MITES) {
            throw Refused.invalid(
                    "mites", "is " + mites, "enter the number counted, 0 to " + MOST_MITES);
        }
    }

    /**
     * Corrects a count. The earlier value stays, and reports that rest on it are marked superseded.
     *
     * @param version of the count that the person saw
     * @throws EditedMeanwhile if the count has changed since
     */
    public MiteCount correct(UUID countId, long version, int mites, String why, By by) {
        checkMites(mites);
        String reason = Entry.why(why);
        desk.onceAt(
                by,
                "correct mites of count",
                countId,
                handle -> {
                    MiteCount before = count(handle, countId);
                    MiteCount after =
                            new MiteCount(
                                    countId,
                                    before.passId(),
                                    mites,
                                    before.countedBy(),
                                    before.countedAt(),
                                    before.recount(),
                                    before.blind(),
                                    version);
                    if (!MiteCounts.update(handle, after)) {
                        throw new EditedMeanwhile(
                                "count",
                                before.version(),
                                Corrections.since(handle, countId, version));
                    }
                    UUID washId = Washes.findPass(handle, before.passId()).orElseThrow().washId();
                    desk
                            .new Changes(
                                    handle,
                                    by,
                                    before.recount() ? "recount" : "count",
                                    countId,
                                    washId,
                                    version,
                                    reason)
                            .field("mites", before.mites(), mites)
                            .done();
                });
        return count(countId);
    }

    public MiteCount count(UUID id) {
        return desk.read(handle -> count(handle, id));
    }

    /** The wash that a count belongs to. */
    public UUID washOf(MiteCount count) {
        return desk.read(handle -> Washes.findPass(handle, count.passId()).orElseThrow().washId());
    }

    private static MiteCount count(Handle handle, UUID id) {
        return MiteCounts.find(handle, Entry.present("count", id))
                .orElseThrow(() -> Refused.notFound("count", id));
    }
}
