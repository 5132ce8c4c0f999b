package org.evenwash.logger.web;

import io.javalin.http.Context;
import java.net.URLEncoder;
import java.nio.charset.StandardCharsets;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.evenwash.analysis.threshold.Threshold;
import org.evenwash.analysis.threshold.Verdict;
import org.evenwash.logger.chart.IntervalBar;
import org.evenwash.logger.chart.PictureSvg;
import org.evenwash.logger.chart.TrendDots;
import org.evenwash.logger.store.ColonyLine;
import org.evenwash.logger.store.CountedWash;
import org.evenwash.logger.store.Hemisphere;
import org.evenwash.logger.store.Listing;
import org.evenwash.logger.store.Page;
import org.evenwash.logger.wash.ColonyList;
import org.evenwash.logger.wash.Workplace;

/** {@code /colonies}: the apiaries, and the colonies with their last results. */
public final class ColoniesPage {
    private static final int ROWS = 40;

    private final FrontDesk desk;
    private final Workplace place;

    ColoniesPage(FrontDesk desk, Workplace place) {
        this.desk = desk;
        this.place = place;
    }

    /**
     * @param reading of the last counted wash, null without one
     * @param dots SVG text of its last results, null without one
     */
    public record Row(ColonyLine colony, Reading reading, String dots) {}

    /** The list as it was asked for, to be asked for again. */
    public record Asked(String apiaryId, String verdict, String name, String sort, boolean ended) {
        /** Address of a page of the same list. */
        public String page(long number) {
            return "/colonies?page="
                    + number
                    + "&sort="
                    + sort
                    + part("apiaryId", apiaryId)
                    + part("verdict", verdict)
                    + part("name", name)
                    + (ended ? "&ended=true" : "");
        }

        private static String part(String name, String value) {
            return value.isEmpty()
                    ? ""
                    : "&" + name + "=" + URLEncoder.encode(value, StandardCharsets.UTF_8);
        }

        /** Whether anything is left out by choice. */
        public boolean narrowed() {
            return !(apiaryId.isEmpty() && verdict.isEmpty() && name.isEmpty());
        }
    }

    /**
     * @param homeZone offered for a new apiary
     */
    public record View(
            List<Option> apiaries,
            List<Row> rows,
            Asked asked,
            long number,
            long pages,
            long total,
            List<Option> verdicts,
            List<Option> sorts,
            List<Option> hemispheres,
            String homeZone) {

        /** The apiary chosen, else the only one, or nothing where a choice has to be made. */
        public String only() {
            return asked.apiaryId().isEmpty() ? Options.only(apiaries) : asked.apiaryId();
        }
    }

    void show(Context ctx) {
        Texts texts = desk.texts(ctx);
        Shell page = desk.shell(ctx, texts.say("colonies.title"), "colonies");
        ColonyQuery query = ColonyQuery.of(ctx, texts);
        Listing<ColonyList.Row> found =
                place.colonyList().list(query.filter(), query.sort(), new Page(query.page(), ROWS));
        ColonyList.Filter filter = query.filter();
        View view =
                new View(
                        new Options(place, texts, page.formats()).apiaries(),
                        rows(found.rows(), page),
                        new Asked(
                                filter.apiaryId() == null ? "" : filter.apiaryId().toString(),
                                filter.call() == null ? "" : filter.call().name(),
                                filter.name(),
                                query.sort().name(),
                                filter.endedToo()),
                        query.page(),
                        found.pages(),
                        found.total(),
                        Arrays.stream(Verdict.Call.values())
                                .map(one -> new Option(one.name(), one.shape() + " " + one.word()))
                                .toList(),
                        Arrays.stream(ColonyList.Sort.values())
                                .map(one -> new Option(one.name(), texts.say(one)))
                                .toList(),
                        Arrays.stream(Hemisphere.values())
                                .map(one -> new Option(one.name(), texts.say(one)))
                                .toList(),
                        ZoneId.systemDefault().getId());
        desk.show(ctx, "colonies", page, view);
    }

    private static List<Row> rows(List<ColonyList.Row> found, Shell page) {
        OptionalDouble end =
                IntervalBar.commonEnd(
                        found.stream()
                                .map(ColonyList.Row::result)
                                .filter(result -> result != null)
                                .toList());
        double top = top(found);
        return found.stream().map(row -> row(row, end, top, page)).toList();
    }

    /** One scale for the list, so that its rows compare; never so short that one mite fills it. */
    private static double top(List<ColonyList.Row> found) {
        double top = 1;
        for (ColonyList.Row row : found) {
            top = Math.max(top, 1.2 * limit(row.threshold()).orElse(0));
            for (CountedWash wash : row.recent()) {
                top = Math.max(top, wash.per100Bees());
            }
        }
        return top;
    }

    private static OptionalDouble limit(Optional<Threshold> threshold) {
        return threshold.isEmpty() ? OptionalDouble.empty() : threshold.get().per100Bees();
    }

    private static Row row(ColonyList.Row row, OptionalDouble end, double top, Shell page) {
        if (row.result() == null) {
            return new Row(row.line(), null, null);
        }
        return new Row(
                row.line(),
                Reading.of(
                        row.result(),
                        row.call(),
                        Pictures.small(row.result(), row.threshold(), end, page),
                        page.formats()),
                dots(row, top, page));
    }

    private static String dots(ColonyList.Row row, double top, Shell page) {
        if (row.recent().isEmpty()) {
            return null;
        }
        List<TrendDots.Result> results = new ArrayList<>();
        List<String> words = new ArrayList<>();
        for (CountedWash wash : row.recent()) {
            results.add(new TrendDots.Result(wash.sampledOn(), wash.per100Bees()));
            words.add(
                    page.formats().day(wash.sampledOn())
                            + ": "
                            + page.formats().number(wash.per100Bees(), 2));
        }
        String title = page.t("colonies.dots", row.line().name());
        return PictureSvg.inPage(
                TrendDots.draw(
                        results, top, limit(row.threshold()), title, String.join("; ", words)));
    }
}
