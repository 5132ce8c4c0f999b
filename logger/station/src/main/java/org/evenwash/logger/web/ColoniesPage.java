package org.evenwash.logger.web;

import io.javalin.http.Context;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.Arrays;
import java.util.List;
import org.evenwash.logger.store.Apiaries;
import org.evenwash.logger.store.Apiary;
import org.evenwash.logger.store.Colonies;
import org.evenwash.logger.store.Colony;
import org.evenwash.logger.store.Database;
import org.evenwash.logger.store.Hemisphere;
import org.evenwash.logger.store.Page;
import org.evenwash.logger.store.WashFilter;
import org.evenwash.logger.store.WashLine;
import org.evenwash.logger.store.Washes;
import org.jdbi.v3.core.Handle;

/** {@code /colonies}: every apiary with the colonies that stand there. */
public final class ColoniesPage {
    private final FrontDesk desk;
    private final Database database;

    ColoniesPage(FrontDesk desk, Database database) {
        this.desk = desk;
        this.database = database;
    }

    /** A colony and the day of its last wash, null if it was never washed. */
    public record Row(Colony colony, LocalDate lastWash) {}

    public record Yard(Apiary apiary, List<Row> colonies) {}

    /**
     * @param homeZone offered for a new apiary
     */
    public record View(List<Yard> yards, List<Option> hemispheres, String homeZone) {
        public List<Option> apiaryOptions() {
            return yards.stream()
                    .map(yard -> new Option(yard.apiary().id().toString(), yard.apiary().name()))
                    .toList();
        }

        /** Id of the only apiary, or nothing where a choice has to be made. */
        public String only() {
            return yards.size() == 1 ? yards.get(0).apiary().id().toString() : "";
        }
    }

    void show(Context ctx) {
        Texts texts = desk.texts(ctx);
        List<Option> hemispheres =
                Arrays.stream(Hemisphere.values())
                        .map(one -> new Option(one.name(), texts.say(one)))
                        .toList();
        View view =
                new View(
                        database.read(ColoniesPage::yards),
                        hemispheres,
                        ZoneId.systemDefault().getId());
        desk.show(ctx, "colonies", desk.shell(ctx, texts.say("colonies.title"), "colonies"), view);
    }

    private static List<Yard> yards(Handle handle) {
        return Apiaries.all(handle).stream()
                .map(
                        apiary ->
                                new Yard(
                                        apiary,
                                        Colonies.living(handle, apiary.id()).stream()
                                                .map(colony -> row(handle, colony))
                                                .toList()))
                .toList();
    }

    private static Row row(Handle handle, Colony colony) {
        List<WashLine> last =
                Washes.list(handle, WashFilter.ofColony(colony.id()), Page.first(1)).rows();
        return new Row(colony, last.isEmpty() ? null : last.get(0).sampledOn());
    }
}
