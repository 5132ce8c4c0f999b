package org.evenwash.logger.web;

import io.javalin.http.Context;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.List;
import org.evenwash.logger.store.BeeMeasure;
import org.evenwash.logger.store.Frame;
import org.evenwash.logger.store.QueenCheck;
import org.evenwash.logger.wash.Workplace;

/** {@code /plan}: a new wash, with a ticket for a bench or without one. */
public final class PlanPage {
    private final FrontDesk desk;
    private final Workplace place;

    PlanPage(FrontDesk desk, Workplace place) {
        this.desk = desk;
        this.place = place;
    }

    /**
     * @param colony id of the colony that was asked for, or nothing
     * @param today ISO day
     */
    public record View(
            List<Option> colonies,
            String colony,
            String today,
            List<Option> operators,
            List<Option> benches,
            List<Option> recipes,
            List<Option> positions,
            List<Option> frames,
            List<Option> queenChecks,
            List<Option> beeMeasures,
            List<Option> spirits) {
        public String onlyRecipe() {
            return Options.only(recipes);
        }
    }

    void show(Context ctx) {
        Shell page = desk.shell(ctx, desk.texts(ctx).say("plan.title"), "plan");
        Options options = new Options(place, page.texts(), page.formats());
        List<Option> colonies = options.colonies();
        String asked = ctx.queryParam("colonyId");
        boolean known = colonies.stream().anyMatch(one -> one.value().equals(asked));
        View view =
                new View(
                        colonies,
                        known ? asked : Options.only(colonies),
                        LocalDate.now(today()).toString(),
                        options.operators(),
                        options.benches(),
                        options.recipes(),
                        options.positions(),
                        options.each(Frame.class),
                        options.each(QueenCheck.class),
                        options.each(BeeMeasure.class),
                        options.spirits());
        desk.show(ctx, "plan", page, view);
    }

    /** The day to start from: that of the only zone in use, or of this machine. */
    private ZoneId today() {
        List<ZoneId> zones =
                place.yard().apiaries().stream().map(one -> one.zone()).distinct().toList();
        return zones.size() == 1 ? zones.get(0) : ZoneId.systemDefault();
    }
}
