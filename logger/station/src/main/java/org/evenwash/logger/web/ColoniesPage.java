package org.evenwash.logger.web;

import io.javalin.http.Context;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.UUID;
import java.util.stream.Collectors;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.threshold.Threshold;
import org.evenwash.analysis.threshold.Verdict;
import org.evenwash.logger.chart.PictureSvg;
import org.evenwash.logger.chart.TrendDots;
import org.evenwash.logger.store.Apiary;
import org.evenwash.logger.store.Colony;
import org.evenwash.logger.store.ColonyWashes;
import org.evenwash.logger.store.Hemisphere;
import org.evenwash.logger.wash.Infestations;
import org.evenwash.logger.wash.Workplace;

/** {@code /colonies}: every apiary with the colonies that stand there, each with its last result. */
public final class ColoniesPage {
    private static final int DOTS = 8;

    private final FrontDesk desk;
    private final Workplace place;

    ColoniesPage(FrontDesk desk, Workplace place) {
        this.desk = desk;
        this.place = place;
    }

    /**
     * @param lastWash day of its last wash, null if it was never washed
     * @param reading of the last counted wash, null without one
     * @param dots SVG text of its last results, null without one
     */
    public record Row(Colony colony, LocalDate lastWash, Reading reading, String dots) {}

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
        Shell page = desk.shell(ctx, texts.say("colonies.title"), "colonies");
        List<Option> hemispheres =
                Arrays.stream(Hemisphere.values())
                        .map(one -> new Option(one.name(), texts.say(one)))
                        .toList();
        View view = new View(yards(page), hemispheres, ZoneId.systemDefault().getId());
        desk.show(ctx, "colonies", page, view);
    }

    /** Three queries and one for each apiary's threshold, however many colonies there are. */
    private List<Yard> yards(Shell page) {
        Map<UUID, List<Colony>> colonies =
                place.yard().living().stream().collect(Collectors.groupingBy(Colony::apiaryId));
        Map<UUID, List<ColonyWashes.Line>> washes =
                place.yard().latestWashes(DOTS).stream()
                        .collect(Collectors.groupingBy(ColonyWashes.Line::colonyId));
        return place.yard().apiaries().stream()
                .map(apiary -> yard(apiary, colonies, washes, page))
                .toList();
    }

    private Yard yard(
            Apiary apiary,
            Map<UUID, List<Colony>> colonies,
            Map<UUID, List<ColonyWashes.Line>> washes,
            Shell page) {
        List<Colony> here = colonies.getOrDefault(apiary.id(), List.of());
        Optional<Threshold> threshold = place.standards().threshold(apiary.id());
        double top = top(here, washes, threshold);
        return new Yard(
                apiary,
                here.stream()
                        .map(
                                one ->
                                        row(
                                                one,
                                                washes.getOrDefault(one.id(), List.of()),
                                                threshold,
                                                top,
                                                page))
                        .toList());
    }

    /** One scale for an apiary, so that its rows compare; never so short that one mite fills it. */
    private static double top(
            List<Colony> here,
            Map<UUID, List<ColonyWashes.Line>> washes,
            Optional<Threshold> threshold) {
        double limit = limit(threshold).orElse(0);
        double most =
                here.stream()
                        .flatMap(one -> washes.getOrDefault(one.id(), List.of()).stream())
                        .filter(ColoniesPage::counted)
                        .mapToDouble(ColoniesPage::per100Bees)
                        .max()
                        .orElse(0);
        return Math.max(1, Math.max(most, 1.2 * limit));
    }

    private static OptionalDouble limit(Optional<Threshold> threshold) {
        return threshold.isEmpty() ? OptionalDouble.empty() : threshold.get().per100Bees();
    }

    private static boolean counted(ColonyWashes.Line line) {
        return line.mites() != null && line.bees() != null;
    }

    private static double per100Bees(ColonyWashes.Line line) {
        return 100 * line.mites() / line.bees();
    }

    private static Row row(
            Colony colony,
            List<ColonyWashes.Line> washes,
            Optional<Threshold> threshold,
            double top,
            Shell page) {
        if (washes.isEmpty()) {
            return new Row(colony, null, null, null);
        }
        LocalDate lastWash = washes.get(washes.size() - 1).sampledOn();
        List<ColonyWashes.Line> counted = washes.stream().filter(ColoniesPage::counted).toList();
        if (counted.isEmpty()) {
            return new Row(colony, lastWash, null, null);
        }
        ColonyWashes.Line last = counted.get(counted.size() - 1);
        Result result =
                Infestations.of(last.mites(), last.bees(), last.beeMeasure(), last.beesLogSd());
        Verdict.Call call =
                Verdict.of(threshold, result).map(Verdict::call).orElse(Verdict.Call.NOT_ASSESSED);
        return new Row(
                colony,
                lastWash,
                Reading.of(result, call, null, page.formats()),
                dots(colony, counted, limit(threshold), top, page));
    }

    private static String dots(
            Colony colony,
            List<ColonyWashes.Line> counted,
            OptionalDouble threshold,
            double top,
            Shell page) {
        List<TrendDots.Result> results = new ArrayList<>();
        List<String> words = new ArrayList<>();
        for (ColonyWashes.Line line : counted) {
            results.add(new TrendDots.Result(line.sampledOn(), per100Bees(line)));
            words.add(
                    page.formats().day(line.sampledOn())
                            + ": "
                            + page.formats().number(per100Bees(line), 2));
        }
        String title = page.t("colonies.dots", colony.name());
        return PictureSvg.inPage(
                TrendDots.draw(results, top, threshold, title, String.join("; ", words)));
    }
}
