package org.evenwash.logger.web;

import io.javalin.http.Context;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.threshold.Threshold;
import org.evenwash.analysis.threshold.Verdict;
import org.evenwash.logger.chart.IntervalBar;
import org.evenwash.logger.store.Apiary;
import org.evenwash.logger.store.Colony;
import org.evenwash.logger.store.Hemisphere;
import org.evenwash.logger.wash.ApiaryBook;
import org.evenwash.logger.wash.ApiaryOverview;
import org.evenwash.logger.wash.Claim;
import org.evenwash.logger.wash.SameDay;
import org.evenwash.logger.wash.Season;
import org.evenwash.logger.wash.Workplace;

/** {@code /apiaries/{id}}: the colonies of an apiary side by side, and what they say of all of them. */
public final class ApiaryPage {
    private static final List<Integer> ROUNDS = List.of(7, 14, 21, 42, 90);

    private final FrontDesk desk;
    private final Workplace place;

    ApiaryPage(FrontDesk desk, Workplace place) {
        this.desk = desk;
        this.place = place;
    }

    /**
     * @param standing of a colony that does not count, null for one that does
     * @param wash null where it was not washed
     * @param reading null without a wash
     */
    public record Row(Colony colony, String standing, SameDay wash, Reading reading) {}

    /**
     * @param treated colonies treated and not washed since: nothing counts them
     * @param threshold null until one is chosen
     * @param mean with the picture on the scale of the rows
     * @param meanOf what it speaks of
     * @param over null without a threshold or a wash
     */
    public record View(
            Apiary apiary,
            List<Row> washed,
            List<Row> others,
            int treated,
            LocalDate from,
            LocalDate to,
            int days,
            List<Option> rounds,
            Threshold threshold,
            Reading mean,
            ApiaryOverview.Mean meanOf,
            ApiaryOverview.Over over,
            List<Claim.Wanted> wanted,
            Season season,
            List<Option> hemispheres,
            List<Option> operators) {
        public int colonies() {
            return washed.size() + others.size();
        }

        public String beeSieve() {
            return mesh(apiary.beeSieve_mm());
        }

        public String miteSieve() {
            return mesh(apiary.miteSieve_mm());
        }

        private static String mesh(Double mesh_mm) {
            return mesh_mm == null ? "" : Formats.plain(mesh_mm);
        }
    }

    void show(Context ctx) {
        Texts texts = desk.texts(ctx);
        int days =
                new Query(ctx, texts)
                        .wholeNumber(
                                "days",
                                1,
                                ApiaryBook.LONGEST_ROUND_DAYS,
                                ApiaryBook.USUAL_ROUND_DAYS);
        ApiaryOverview found = place.apiaries().overview(Query.path(ctx, texts), days);
        Shell page = desk.shell(ctx, found.apiary().name(), "colonies").at(found.apiary().zone());
        List<Result> results = new ArrayList<>(List.of(found.mean().result()));
        found.washed().forEach(row -> results.add(row.wash().infestation()));
        OptionalDouble end = IntervalBar.commonEnd(results);
        List<Row> washed = new ArrayList<>();
        List<Row> others = new ArrayList<>();
        for (ApiaryOverview.Row row : found.rows()) {
            boolean counts = row.standing() == ApiaryOverview.Standing.WASHED;
            (counts ? washed : others).add(row(row, found, end, page));
        }
        Options options = new Options(place, texts, page.formats());
        desk.show(
                ctx,
                "apiary",
                page,
                new View(
                        found.apiary(),
                        washed,
                        others,
                        found.in(ApiaryOverview.Standing.TREATED_SINCE).size(),
                        found.from(),
                        found.to(),
                        days,
                        rounds(days, page),
                        found.threshold().orElse(null),
                        reading(found.mean().result(), found, end, page),
                        found.mean(),
                        found.over().orElse(null),
                        found.rows().isEmpty() ? List.of() : Claim.wanted(found.rows().size()),
                        found.season(),
                        options.each(Hemisphere.class),
                        options.operators()));
    }

    private static List<Option> rounds(int days, Shell page) {
        List<Integer> all = new ArrayList<>(ROUNDS);
        if (!all.contains(days)) {
            all.add(days);
            all.sort(Integer::compare);
        }
        return all.stream()
                .map(one -> new Option(String.valueOf(one), page.t("apiary.days", one)))
                .toList();
    }

    private static Row row(
            ApiaryOverview.Row row, ApiaryOverview found, OptionalDouble end, Shell page) {
        boolean counts = row.standing() == ApiaryOverview.Standing.WASHED;
        return new Row(
                row.colony(),
                counts ? null : page.texts().say(row.standing()),
                row.wash(),
                row.wash() == null ? null : reading(row.wash().infestation(), found, end, page));
    }

    private static Reading reading(
            Result result, ApiaryOverview found, OptionalDouble end, Shell page) {
        Verdict.Call call =
                Verdict.of(found.threshold(), result)
                        .map(Verdict::call)
                        .orElse(Verdict.Call.NOT_ASSESSED);
        return Reading.of(
                result, call, Pictures.small(result, found.threshold(), end, page), page.formats());
    }
}
