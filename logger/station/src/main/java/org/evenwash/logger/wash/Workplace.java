package org.evenwash.logger.wash;

import java.time.Clock;
import org.evenwash.logger.store.Database;

/** All services over one database. Every way in (pages, API, CLI, demo) goes through these. */
public record Workplace(
        Yard yard,
        SpiritShelf spirit,
        RecipeBook recipes,
        BenchRegister benches,
        WashBook washes,
        Counting counting,
        TicketDesk tickets,
        CycleBook cycles,
        Standards standards,
        Sheets sheets) {

    public static Workplace over(Database database, BenchLink link, Clock clock) {
        Desk desk = new Desk(database, clock);
        Standards standards = new Standards(desk);
        return new Workplace(
                new Yard(desk),
                new SpiritShelf(desk),
                new RecipeBook(desk),
                new BenchRegister(desk, link),
                new WashBook(desk),
                new Counting(desk),
                new TicketDesk(desk, link),
                new CycleBook(desk),
                standards,
                new Sheets(desk, standards));
    }
}
