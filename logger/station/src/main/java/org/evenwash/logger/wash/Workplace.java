package org.evenwash.logger.wash;

import java.nio.file.Path;
import java.time.Clock;
import org.evenwash.logger.rules.RulesFolder;
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
        DayPlanner days,
        ColonyList colonyList,
        Trends trends,
        ApiaryBook apiaries,
        Treatments treatments,
        Calibrating calibrating,
        Consistency consistency,
        Clock clock) {

    /** Without rule files of the keeper's own. */
    public static Workplace over(Database database, BenchLink link, Clock clock) {
        return over(database, link, clock, null);
    }

    /** @param rulesFolder where the keeper's own rule files are; null for none */
    public static Workplace over(Database database, BenchLink link, Clock clock, Path rulesFolder) {
        Desk desk = new Desk(database, clock);
        Standards standards = new Standards(desk, new RulesFolder(rulesFolder));
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
                new DayPlanner(desk, washes, tickets),
                new ColonyList(desk, standards),
                new Trends(desk, standards),
                new ApiaryBook(desk, standards),
                new Treatments(desk),
                Calibrating.over(desk),
                new Consistency(desk),
                clock);
    }
}
