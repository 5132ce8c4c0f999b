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
        Sheets sheets,
        ReportShelf reports,
        PhotoAlbum photos,
        BeeEstimates beeEstimates,
        DayPlanner days) {

    public static Workplace over(Database database, BenchLink link, Clock clock) {
        Desk desk = new Desk(database, clock);
        Standards standards = new Standards(desk);
        WashBook washes = new WashBook(desk);
        TicketDesk tickets = new TicketDesk(desk, link);
        return new Workplace(
                new Yard(desk),
                new SpiritShelf(desk),
                new RecipeBook(desk),
                new BenchRegister(desk, link),
                washes,
                new Counting(desk),
                tickets,
                new CycleBook(desk),
                standards,
                new Sheets(desk, standards),
                new ReportShelf(desk),
                new PhotoAlbum(desk),
                new BeeEstimates(desk),
                new DayPlanner(desk, washes, tickets));
    }
}
