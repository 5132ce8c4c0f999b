package org.evenwash.logger.wash;

import java.nio.file.Path;
import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.UUID;
import org.evenwash.logger.store.Apiary;
import org.evenwash.logger.store.BeeMeasure;
import org.evenwash.logger.store.Colony;
import org.evenwash.logger.store.Database;
import org.evenwash.logger.store.Hemisphere;
import org.evenwash.record.BenchCommand;
import org.evenwash.record.Pass;
import org.evenwash.record.Ticket;

/** An apiary on 20 June 2031, to be filled with washes of the months before. */
final class Years implements BenchLink, AutoCloseable {
    static final LocalDate TODAY = LocalDate.of(2031, 6, 20);

    final Database database;
    final Workplace work;
    final Apiary apiary;

    Years(Path folder, boolean demonstration) {
        database = Database.open("jdbc:sqlite:" + folder.resolve("years.db"));
        if (demonstration) {
            database.becomeDemonstration();
        }
        Instant noon = TODAY.atTime(12, 0).toInstant(ZoneOffset.UTC);
        work = Workplace.over(database, this, Clock.fixed(noon, ZoneOffset.UTC));
        apiary = work.yard().addApiary("Fern Hill", "Etc/UTC", Hemisphere.NORTHERN, By.nobody());
    }

    /** The University of Florida's: more than 3 mites per 100 bees. */
    void chooseThreshold() {
        work.standards().chooseThreshold("university-of-florida", null, By.nobody());
    }

    Colony colony(String name) {
        return work.yard().addColony(apiary.id(), name, By.nobody());
    }

    UUID wash(Colony colony, LocalDate day, int mites, double bees, boolean simulated) {
        UUID wash =
                work.washes()
                        .plan(
                                new NewWash(colony.id(), day, null, null, null, "", simulated),
                                By.nobody())
                        .id();
        work.washes().enterBees(wash, 1, BeeMeasure.COUNTED, bees, null, null, null, By.nobody());
        work.counting().enter(wash, Pass.FIRST, mites, null, By.nobody());
        return wash;
    }

    UUID wash(Colony colony, LocalDate day, int mites) {
        return wash(colony, day, mites, 300, false);
    }

    /** Washes every {@code days} days, the last on {@code last}. */
    void series(Colony colony, LocalDate last, int days, int... mites) {
        for (int i = 0; i < mites.length; i++) {
            wash(colony, last.minusDays((long) days * (mites.length - 1 - i)), mites[i]);
        }
    }

    UUID treat(Colony colony, String substance, LocalDate from, LocalDate until) {
        work.yard().treated(colony.id(), substance, from, until, "", By.nobody());
        var events = work.yard().events(colony.id());
        return events.stream()
                .filter(event -> event.onDay().equals(from))
                .reduce((first, second) -> second)
                .orElseThrow()
                .id();
    }

    @Override
    public void send(Ticket ticket) {
        throw new IllegalStateException("no bench here");
    }

    @Override
    public boolean send(BenchCommand command) {
        return false;
    }

    @Override
    public void close() {
        database.close();
    }
}
