package org.evenwash.logger.web;

import io.javalin.http.Context;
import java.time.LocalDate;
import java.util.List;
import org.evenwash.logger.store.Apiary;
import org.evenwash.logger.store.Colony;
import org.evenwash.logger.store.ColonyEvent;
import org.evenwash.logger.store.Page;
import org.evenwash.logger.store.WashFilter;
import org.evenwash.logger.wash.Workplace;

/** {@code /colonies/{id}}: one colony, its washes and what happened to it. */
public final class ColonyPage {
    private static final int ROWS = 100;

    private final FrontDesk desk;
    private final Workplace place;

    ColonyPage(FrontDesk desk, Workplace place) {
        this.desk = desk;
        this.place = place;
    }

    /** What happens most often comes first. */
    public static final List<ColonyEvent.Kind> KINDS =
            List.of(
                    ColonyEvent.Kind.TREATMENT,
                    ColonyEvent.Kind.REQUEEN,
                    ColonyEvent.Kind.SPLIT,
                    ColonyEvent.Kind.SWARM,
                    ColonyEvent.Kind.MERGE,
                    ColonyEvent.Kind.MOVE,
                    ColonyEvent.Kind.RENAME,
                    ColonyEvent.Kind.DEATH);

    public record View(
            Colony colony,
            Apiary apiary,
            List<WashRow> rows,
            List<EventLine> events,
            Choices choices,
            String today) {}

    /**
     * @param what in words, such as the new name or the substance
     * @param until last day of a treatment, null without one
     */
    public record EventLine(ColonyEvent event, String what, LocalDate until) {}

    /** What the forms offer. */
    public record Choices(List<Option> apiaries, List<Option> colonies, List<Option> operators) {}

    void show(Context ctx) {
        Colony colony = place.yard().colony(Query.path(ctx, desk.texts(ctx)));
        Apiary apiary = place.yard().apiary(colony.apiaryId());
        Shell page = desk.shell(ctx, colony.name(), "colonies");
        View view =
                new View(
                        colony,
                        apiary,
                        WashRows.of(
                                place.washes()
                                        .list(WashFilter.ofColony(colony.id()), Page.first(ROWS))
                                        .rows(),
                                place,
                                page),
                        place.yard().events(colony.id()).stream().map(this::line).toList(),
                        choices(colony, page),
                        LocalDate.now(apiary.zone()).toString());
        desk.show(ctx, "colony", page, view);
    }

    private EventLine line(ColonyEvent event) {
        String what =
                switch (event.kind()) {
                    case RENAME -> event.earlierName() + " → " + event.laterName();
                    case MOVE ->
                            place.yard().apiary(event.fromApiaryId()).name()
                                    + " → "
                                    + place.yard().apiary(event.toApiaryId()).name();
                    case SPLIT, MERGE -> place.yard().colony(event.otherColonyId()).name();
                    case TREATMENT -> event.substance();
                    case REQUEEN, SWARM, DEATH -> "";
                };
        return new EventLine(event, what, event.untilDay());
    }

    private Choices choices(Colony colony, Shell page) {
        Options options = new Options(place, page.texts(), page.formats());
        String own = colony.id().toString();
        String here = colony.apiaryId().toString();
        return new Choices(
                options.apiaries().stream().filter(one -> !one.value().equals(here)).toList(),
                options.colonies().stream().filter(one -> !one.value().equals(own)).toList(),
                options.operators());
    }
}
