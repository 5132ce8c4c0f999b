package org.evenwash.logger.wash;

import java.nio.file.Path;
import java.time.Clock;
import java.util.ArrayList;
import java.util.List;
import org.evenwash.logger.TestDatabase;
import org.evenwash.logger.store.Apiary;
import org.evenwash.logger.store.Colony;
import org.evenwash.logger.store.Database;
import org.evenwash.logger.store.Hemisphere;
import org.evenwash.logger.store.Operator;
import org.evenwash.record.BenchCommand;
import org.evenwash.record.RecipeSheet;
import org.evenwash.record.Ticket;

/** A database with an apiary, a colony and two people in it, and a link that writes down what it is sent. */
final class Book implements BenchLink, AutoCloseable {
    static final RecipeSheet RECIPE =
            RecipeSheet.of(
                    "three-bouts",
                    "Three bouts",
                    1,
                    List.of(new RecipeSheet.Bout(40, 150, 2, 10, false)),
                    3,
                    new RecipeSheet.Tolerances(0.1, 1, 0.1, 0.9),
                    60);

    final Database database;
    final Workplace work;
    final List<Ticket> sent = new ArrayList<>();
    final Apiary apiary;
    final Colony colony;
    final Operator first;
    final Operator second;

    Book(Path folder) {
        database = Database.open(TestDatabase.in(folder, "book"));
        work = Workplace.over(database, this, Clock.systemUTC());
        apiary =
                work.yard()
                        .addApiary("Hazel Bank", "Europe/Vienna", Hemisphere.NORTHERN, By.nobody());
        colony = work.yard().addColony(apiary.id(), "H1", By.nobody());
        first = work.yard().addOperator("Operator One", By.nobody());
        second = work.yard().addOperator("Operator Two", By.nobody());
    }

    @Override
    public void send(Ticket ticket) {
        sent.add(ticket);
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
