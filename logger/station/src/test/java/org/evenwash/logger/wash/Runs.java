package org.evenwash.logger.wash;

import java.time.Instant;
import java.util.List;
import java.util.UUID;
import org.evenwash.logger.store.Cycles;
import org.evenwash.logger.store.Database;
import org.evenwash.logger.store.Wash;
import org.evenwash.record.ClockState;
import org.evenwash.record.CycleRecord;
import org.evenwash.record.Messages;
import org.evenwash.record.Outcome;
import org.evenwash.record.Pass;
import org.evenwash.record.Position;
import org.evenwash.record.RecipeSheet;

/** Washes with their second wash put into a book, by hand or with cycles as a bench records them. */
final class Runs {
    static final String BENCH = "shed-1";
    private static final UUID OUTBOX = new UUID(7, 7);

    private final Book book;
    private final Database database;
    private Instant next = Instant.parse("2031-05-20T08:00:00Z");
    private long sequence;

    Runs(Book book) {
        this.book = book;
        this.database = book.database;
    }

    /** For cycles alone. */
    Runs(Database database) {
        this.book = null;
        this.database = database;
    }

    /** A wash shaken by hand, and shaken by hand again. */
    Wash byHand(double agitation_s, int first, int second, UUID operatorId) {
        Wash wash = planned(operatorId);
        book.work.washes().enterPass(wash.id(), Pass.FIRST, null, agitation_s, By.nobody());
        counted(wash, first, second);
        return wash;
    }

    /** A wash run by a recipe on a bench. */
    Wash atBench(RecipeSheet recipe, boolean simulated, int first, int second, UUID operatorId) {
        Wash wash = planned(operatorId);
        CycleRecord cycle = cycle(recipe, simulated, List.of());
        store(cycle);
        book.work.cycles().attach(cycle.cycleId(), 1, wash.id(), Pass.FIRST, By.nobody());
        counted(wash, first, second);
        return book.work.washes().wash(wash.id());
    }

    private Wash planned(UUID operatorId) {
        return book.work.washes().plan(NewWash.today(book.colony.id(), operatorId), By.nobody());
    }

    private void counted(Wash wash, int first, int second) {
        book.work.counting().enter(wash.id(), Pass.FIRST, first, null, By.nobody());
        book.work.counting().enter(wash.id(), Pass.SECOND, second, null, By.nobody());
    }

    void store(CycleRecord cycle) {
        String hash = Messages.sha256(Messages.write(cycle));
        database.change(handle -> Cycles.insert(handle, cycle, hash, false, next));
    }

    /** A cycle as asked; with an interruption it departs from its recipe. */
    CycleRecord cycle(RecipeSheet recipe, boolean simulated, List<CycleRecord.Interruption> cuts) {
        // A bench is a few hundredths of a second off, now so, now so.
        double done_s = recipe.totalAgitation_s() + 0.02 * ((sequence + 1) % 5 - 2);
        return cycle(recipe, simulated, cuts, Outcome.COMPLETE, done_s);
    }

    CycleRecord cycle(RecipeSheet recipe, Outcome outcome, double done_s) {
        return cycle(recipe, false, List.of(), outcome, done_s);
    }

    private CycleRecord cycle(
            RecipeSheet recipe,
            boolean simulated,
            List<CycleRecord.Interruption> cuts,
            Outcome outcome,
            double done_s) {
        next = next.plusSeconds(600);
        sequence++;
        return new CycleRecord(
                CycleRecord.SCHEMA,
                UUID.randomUUID(),
                BENCH,
                new UUID(8, 8),
                OUTBOX,
                sequence,
                simulated,
                "test",
                List.of(new Position(1, null, null, Pass.FIRST)),
                null,
                recipe,
                outcome,
                null,
                next,
                next.plusSeconds(200),
                ClockState.SYNCHRONISED,
                200,
                recipe.totalAgitation_s(),
                done_s,
                Math.max(0, done_s - 6),
                300,
                List.of(),
                List.of(),
                cuts,
                List.of(),
                new CycleRecord.Conditions(null, null, null, null, null),
                new CycleRecord.ScanHealth(6_000, 0, 0.3),
                new CycleRecord.SpeedTrace(1, List.of(0.0)),
                new CycleRecord.Conformity(
                        cuts.isEmpty(),
                        List.of(
                                new CycleRecord.Conformity.Point(
                                        "interruptions",
                                        cuts.isEmpty(),
                                        cuts.size() + " of them"))));
    }
}
