package org.evenwash.logger.transfer;

import java.time.Instant;
import java.time.LocalTime;
import java.util.HashSet;
import java.util.List;
import java.util.Objects;
import java.util.Set;
import java.util.UUID;
import java.util.function.Consumer;
import org.evenwash.logger.store.Apiaries;
import org.evenwash.logger.store.Apiary;
import org.evenwash.logger.store.BeeMeasure;
import org.evenwash.logger.store.Colonies;
import org.evenwash.logger.store.Frame;
import org.evenwash.logger.store.Handling;
import org.evenwash.logger.store.ImportedRows;
import org.evenwash.logger.store.ImportedRows.Made;
import org.evenwash.logger.store.MiteCount;
import org.evenwash.logger.store.Operators;
import org.evenwash.logger.store.QueenCheck;
import org.evenwash.logger.store.SpiritBatches;
import org.evenwash.logger.store.SpiritUse;
import org.evenwash.logger.store.Wash;
import org.evenwash.logger.store.WashBatch;
import org.evenwash.logger.store.WashPass;
import org.evenwash.record.Ids;
import org.evenwash.record.Pass;
import org.jdbi.v3.core.Handle;

/** Makes washes of rows: the same as any other, only that no bench shook them. */
final class ImportWriter implements ImportRun.Writer, AutoCloseable {
    static final List<WashField> PEOPLE =
            List.of(
                    WashField.OPERATOR,
                    WashField.BEES_COUNTED_BY,
                    WashField.COUNTED_BY,
                    WashField.RECOUNTED_BY,
                    WashField.SECOND_COUNTED_BY,
                    WashField.BLANK_COUNTED_BY);

    private final Handle handle;
    private final UUID importId;
    private final Instant now;
    private final WashBatch batch;
    private final Set<UUID> made = new HashSet<>();

    ImportWriter(Handle handle, UUID importId, Instant now) {
        this.handle = handle;
        this.importId = importId;
        this.now = now;
        this.batch = new WashBatch(handle);
    }

    void flush() {
        batch.flush();
    }

    @Override
    public void close() {
        batch.close();
    }

    @Override
    public void wash(OldWash row, Apiary apiary, UUID colonyId, long rowKey, Directory directory) {
        make(
                directory.newApiaries.get(apiary.id()),
                apiary.id(),
                Made.APIARY,
                one -> Apiaries.insert(handle, one));
        make(
                directory.newColonies.get(colonyId),
                colonyId,
                Made.COLONY,
                one -> Colonies.insert(handle, one));
        UUID id = Objects.requireNonNullElseGet(row.get(WashField.WASH_ID, UUID.class), Ids::next);
        batch.add(
                new Wash(
                        id,
                        colonyId,
                        apiary.id(),
                        row.day(),
                        person(row, WashField.OPERATOR, directory),
                        row.get(WashField.FRAME, Frame.class),
                        row.get(WashField.QUEEN_CHECK, QueenCheck.class),
                        row.number(WashField.BEES) == null
                                ? BeeMeasure.NOT_STATED
                                : row.get(WashField.BEE_MEASURE, BeeMeasure.class),
                        row.number(WashField.BEES),
                        row.number(WashField.BEES_LOG_SD),
                        row.number(WashField.SAMPLE_MASS),
                        person(row, WashField.BEES_COUNTED_BY, directory),
                        row.whole(WashField.RINSES),
                        new Handling(
                                row.whole(WashField.FRAMES),
                                row.number(WashField.LIQUID_ML),
                                row.get(WashField.BEES_COVERED, Boolean.class),
                                row.number(WashField.BEE_SIEVE_MM),
                                row.number(WashField.MITE_SIEVE_MM),
                                row.get(WashField.JAR_WALLS_CHECKED, Boolean.class),
                                row.whole(WashField.TIMES_WASHED)),
                        row.text(WashField.REMARKS),
                        row.yes(WashField.SIMULATED),
                        now,
                        null,
                        1));
        passes(row, id, noon(row, apiary), directory);
        batch.from(importId, row.line(), rowKey, id);
    }

    /** A file knows the day of a count, not its hour; a count after the import is told by its time. */
    private Instant noon(OldWash row, Apiary apiary) {
        Instant noon = row.day().atTime(LocalTime.NOON).atZone(apiary.zone()).toInstant();
        return noon.isBefore(now) ? noon : now.minusMillis(1);
    }

    private void passes(OldWash row, UUID washId, Instant at, Directory directory) {
        UUID spirit = directory.spirit(row.text(WashField.SPIRIT));
        if (spirit != null) {
            make(
                    directory.newSpirits.get(spirit),
                    spirit,
                    Made.SPIRIT,
                    one -> SpiritBatches.insert(handle, one));
        }
        Double shaken_s = row.number(WashField.HAND_AGITATION);
        Integer mites = row.whole(WashField.MITES);
        if (mites != null || spirit != null || shaken_s != null) {
            UUID first = pass(washId, Pass.FIRST, spirit, shaken_s);
            if (spirit != null) {
                batch.add(use(spirit, first, at));
            }
            if (mites != null) {
                count(first, mites, person(row, WashField.COUNTED_BY, directory), at, false, false);
            }
            Integer recount = row.whole(WashField.RECOUNT_MITES);
            if (recount != null) {
                UUID by = person(row, WashField.RECOUNTED_BY, directory);
                count(first, recount, by, at, true, row.yes(WashField.RECOUNT_BLIND));
            }
        }
        Integer second = row.whole(WashField.SECOND_MITES);
        if (second != null) {
            UUID by = person(row, WashField.SECOND_COUNTED_BY, directory);
            count(pass(washId, Pass.SECOND, null, null), second, by, at, false, false);
        }
        Integer blank = row.whole(WashField.BLANK_MITES);
        if (blank != null) {
            UUID by = person(row, WashField.BLANK_COUNTED_BY, directory);
            count(pass(washId, Pass.BLANK, null, null), blank, by, at, false, false);
        }
    }

    private UUID pass(UUID washId, Pass kind, UUID spirit, Double shaken_s) {
        UUID id = Ids.next();
        batch.add(new WashPass(id, washId, kind, spirit, shaken_s, 1));
        return id;
    }

    private void count(
            UUID passId, int mites, UUID by, Instant at, boolean recount, boolean blind) {
        batch.add(new MiteCount(Ids.next(), passId, mites, by, at, recount, blind, 1));
    }

    private static SpiritUse use(UUID spirit, UUID passId, Instant at) {
        return new SpiritUse(
                Ids.next(), spirit, SpiritUse.Kind.WASH, passId, null, null, "", at, null);
    }

    private UUID person(OldWash row, WashField field, Directory directory) {
        UUID id = directory.operator(row.text(field));
        if (id != null) {
            make(
                    directory.newOperators.get(id),
                    id,
                    Made.OPERATOR,
                    one -> Operators.insert(handle, one));
        }
        return id;
    }

    /** Writes what is new, once, before the first wash that needs it. */
    private <T> void make(T subject, UUID id, Made kind, Consumer<T> insert) {
        if (subject != null && made.add(id)) {
            insert.accept(subject);
            ImportedRows.made(handle, importId, kind, id);
        }
    }
}
