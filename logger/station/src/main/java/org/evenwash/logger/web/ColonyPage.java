package org.evenwash.logger.web;

import io.javalin.http.Context;
import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.threshold.Threshold;
import org.evenwash.analysis.threshold.Verdict;
import org.evenwash.analysis.trend.DatedStretch;
import org.evenwash.logger.chart.Drawing;
import org.evenwash.logger.report.DayWords;
import org.evenwash.logger.report.StretchWords;
import org.evenwash.logger.report.TrendPicture;
import org.evenwash.logger.store.Apiary;
import org.evenwash.logger.store.Colony;
import org.evenwash.logger.store.ColonyEvent;
import org.evenwash.logger.store.Page;
import org.evenwash.logger.store.WashFilter;
import org.evenwash.logger.wash.ColonyHistory;
import org.evenwash.logger.wash.NextWash;
import org.evenwash.logger.wash.Refused;
import org.evenwash.logger.wash.SameDay;
import org.evenwash.logger.wash.Season;
import org.evenwash.logger.wash.Workplace;

/**
 * {@code /colonies/{id}}: one colony, its washes over time and what happened to it; {@code
 * /colonies/{id}/trend.svg}: its chart.
 */
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
            Now now,
            Trend trend,
            List<WashRow> rows,
            List<EventLine> events,
            Choices choices,
            String today) {}

    /**
     * How the colony stands.
     *
     * @param last washes of one day that are judged together; null without a result
     * @param reading of them, null without one
     * @param together what they are, null for a wash that stands alone
     * @param words of the verdict, null without a threshold
     * @param next null for a colony that has ended
     * @param why the rule that sets the next wash
     */
    public record Now(
            SameDay last,
            Reading reading,
            String together,
            String words,
            NextWash next,
            String why,
            Season season) {}

    /**
     * Its washes over time.
     *
     * @param picture address of the chart, null without a result
     * @param described the chart in words
     * @param latest what is going on, null where nothing can be followed
     * @param before earlier stretches, latest first
     * @param all address with all years, null where all are shown
     * @param simulated results left out because they were simulated
     */
    public record Trend(
            String picture,
            String described,
            StretchWords latest,
            List<StretchWords> before,
            String all,
            int simulated) {}

    /**
     * @param what in words, such as the new name or the substance
     * @param until last day of a treatment, null without one
     * @param other the other colony of a split or merge, null without one
     * @param own whether it was noted for this colony, and not for the other one
     */
    public record EventLine(
            ColonyEvent event, String what, LocalDate until, UUID other, boolean own) {}

    /** What the forms offer. */
    public record Choices(List<Option> apiaries, List<Option> colonies, List<Option> operators) {}

    void show(Context ctx) {
        UUID id = Query.path(ctx, desk.texts(ctx));
        boolean all = "true".equals(ctx.queryParam("all"));
        ColonyHistory history = history(id, all, ctx);
        Colony colony = history.colony();
        Apiary apiary = history.apiary();
        Shell page = desk.shell(ctx, colony.name(), "colonies").at(apiary.zone());
        View view =
                new View(
                        colony,
                        apiary,
                        now(history, page),
                        trend(history, all, page),
                        WashRows.of(
                                place.washes()
                                        .list(WashFilter.ofColony(colony.id()), Page.first(ROWS))
                                        .rows(),
                                place,
                                page),
                        history.events().stream().map(event -> line(event, colony)).toList(),
                        choices(colony, page),
                        history.today().toString());
        desk.show(ctx, "colony", page, view);
    }

    /** The chart as a file; {@code narrow} for a phone. */
    void picture(Context ctx) {
        UUID id = Query.path(ctx, desk.texts(ctx));
        ColonyHistory history = history(id, "true".equals(ctx.queryParam("all")), ctx);
        Shell page =
                desk.shell(ctx, history.colony().name(), "colonies").at(history.apiary().zone());
        boolean narrow = "true".equals(ctx.queryParam("narrow"));
        Drawing drawing =
                TrendPicture.of(history, narrow, page.wording())
                        .orElseThrow(() -> Refused.notFound("trend", id));
        ctx.contentType("image/svg+xml");
        ctx.result(drawing.svgAlone());
    }

    private ColonyHistory history(UUID id, boolean all, Context ctx) {
        return place.trends().of(id, all, desk.formats(ctx)::day);
    }

    private static Now now(ColonyHistory history, Shell page) {
        SameDay last = history.last().orElse(null);
        NextWash next = history.next().orElse(null);
        String why = next == null ? "" : why(next, page);
        if (last == null) {
            return new Now(null, null, null, null, next, why, history.season());
        }
        Result result = last.infestation();
        Verdict verdict = last.verdict(history.threshold()).orElse(null);
        Verdict.Call call = verdict == null ? Verdict.Call.NOT_ASSESSED : verdict.call();
        return new Now(
                last,
                Reading.of(result, call, Pictures.large(result, verdict, page), page.formats()),
                last.several() ? DayWords.together(last, page.wording()) : null,
                verdict == null ? null : page.formats().decimals(verdict.words()),
                next,
                why,
                history.season());
    }

    private static String why(NextWash next, Shell page) {
        String since = next.since() == null ? "" : page.formats().day(next.since());
        long days = next.since() == null ? 0 : ChronoUnit.DAYS.between(next.since(), next.due());
        return page.t("Rule." + next.rule().name(), days, since);
    }

    private static Trend trend(ColonyHistory history, boolean all, Shell page) {
        Threshold threshold = history.threshold().orElse(null);
        List<StretchWords> words = new ArrayList<>();
        for (DatedStretch stretch : history.stretches()) {
            words.add(0, StretchWords.of(stretch, threshold, page.wording()));
        }
        boolean going = history.latest().isPresent();
        Optional<Drawing> drawing = TrendPicture.of(history, false, page.wording());
        String address = "/colonies/" + history.colony().id();
        return new Trend(
                drawing.map(one -> address + "/trend.svg?all=" + all).orElse(null),
                drawing.map(Drawing::description).orElse(""),
                going ? words.get(0) : null,
                going ? words.subList(1, words.size()) : words,
                history.earlier() ? address + "?all=true" : null,
                history.simulatedLeftOut());
    }

    private EventLine line(ColonyEvent event, Colony colony) {
        boolean own = event.colonyId().equals(colony.id());
        UUID other = own ? event.otherColonyId() : event.colonyId();
        String what =
                switch (event.kind()) {
                    case RENAME -> event.earlierName() + " → " + event.laterName();
                    case MOVE ->
                            place.yard().apiary(event.fromApiaryId()).name()
                                    + " → "
                                    + place.yard().apiary(event.toApiaryId()).name();
                    case SPLIT, MERGE -> place.yard().colony(other).name();
                    case TREATMENT -> event.substance();
                    case REQUEEN, SWARM, DEATH -> "";
                };
        return new EventLine(event, what, event.untilDay(), other, own);
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
