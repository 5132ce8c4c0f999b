package org.evenwash.logger.transfer;

import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.List;
import java.util.UUID;
import org.evenwash.logger.store.Colony;
import org.evenwash.logger.store.Database;
import org.evenwash.logger.store.ImportFile;
import org.evenwash.logger.store.Page;
import org.evenwash.logger.store.WashFilter;
import org.evenwash.logger.store.WashLine;
import org.evenwash.logger.wash.BenchLink;
import org.evenwash.logger.wash.By;
import org.evenwash.logger.wash.Workplace;
import org.evenwash.record.BenchCommand;
import org.evenwash.record.Ticket;

/** A database on a fixed day, and files of old records brought into it. */
final class OldBook implements AutoCloseable {
    static final Instant NOW = Instant.parse("2031-08-01T12:00:00Z");

    final Database database;
    final Workplace work;
    final Importing importing;

    OldBook(Path folder) {
        this(Database.open("jdbc:sqlite:" + folder.resolve("old.db")));
    }

    OldBook(Database database) {
        this.database = database;
        Clock clock = Clock.fixed(NOW, ZoneOffset.UTC);
        work = Workplace.over(database, new NoBench(), clock);
        importing = new Importing(database, clock);
    }

    private static final class NoBench implements BenchLink {
        @Override
        public void send(Ticket ticket) {
            throw new AssertionError("an import sends nothing to a bench");
        }

        @Override
        public boolean send(BenchCommand command) {
            throw new AssertionError("an import sends nothing to a bench");
        }
    }

    UUID upload(String... lines) {
        return upload(String.join("\n", lines).getBytes(StandardCharsets.UTF_8));
    }

    UUID upload(byte... bytes) {
        return importing.upload("old.csv", bytes).id();
    }

    /** A dry run by the suggested plan, with an apiary for all rows where no column has it. */
    Outcome check(UUID id) {
        return importing.check(id, plan(id), Progress.NONE);
    }

    ImportPlan plan(UUID id) {
        ImportPlan first = importing.look(id).plan();
        boolean named = first.columns().containsKey(WashField.APIARY) || first.apiary() != null;
        return new ImportPlan(
                first.separator(),
                first.decimalComma(),
                first.dayOrder(),
                LocalDate.of(2031, 3, 1),
                first.columns(),
                named ? first.apiary() : "Old Orchard",
                "Europe/Vienna",
                first.hemisphere(),
                first.beeMeasure(),
                first.frame(),
                first.agitationUnit(),
                first.massUnit(),
                first.keepOthers());
    }

    ImportFile accept(UUID id) {
        return importing.accept(id, false, true, By.nobody(), Progress.NONE);
    }

    ImportFile bringIn(String... lines) {
        UUID id = upload(lines);
        check(id);
        return accept(id);
    }

    /** Newest first. */
    List<WashLine> washes() {
        return work.washes().list(WashFilter.ALL, Page.first(Page.MOST)).rows();
    }

    List<String> colonies() {
        return work.yard().allColonies(Page.first(Page.MOST)).rows().stream()
                .map(Colony::name)
                .toList();
    }

    @Override
    public void close() {
        database.close();
    }
}
