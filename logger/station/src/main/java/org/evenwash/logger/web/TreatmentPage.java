package org.evenwash.logger.web;

import io.javalin.http.Context;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.evenwash.analysis.Quantity;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.ResultText;
import org.evenwash.analysis.infestation.Infestation;
import org.evenwash.logger.chart.IntervalBar;
import org.evenwash.logger.store.Apiary;
import org.evenwash.logger.store.Colony;
import org.evenwash.logger.store.ColonyEvent;
import org.evenwash.logger.wash.TreatmentEffect;
import org.evenwash.logger.wash.TreatmentEffect.Pair;
import org.evenwash.logger.wash.Workplace;

/** {@code /treatments/{id}}: what a treatment did, by the washes before and after it. */
public final class TreatmentPage {
    private final FrontDesk desk;
    private final Workplace place;

    TreatmentPage(FrontDesk desk, Workplace place) {
        this.desk = desk;
        this.place = place;
    }

    /**
     * An efficacy in words.
     *
     * @param figure null where there is no estimate
     * @param sentence its interval, its bound, or what it needs
     */
    public record Effect(String figure, String sentence, List<String> remarks) {}

    /**
     * One colony's washes, each with its picture on one scale.
     *
     * @param days between the two washes
     */
    public record Row(
            Colony colony,
            String before,
            String after,
            String beforeBar,
            String afterBar,
            long days) {}

    /** Colonies compared in the same way. */
    public record Group(String name, List<Row> rows) {}

    public record LeftOut(Colony colony, String why) {}

    /**
     * @param group null without other colonies treated alike
     */
    public record View(
            ColonyEvent event,
            Colony colony,
            Apiary apiary,
            Effect single,
            Effect group,
            int alike,
            int controls,
            List<Group> groups,
            List<LeftOut> leftOut) {}

    void show(Context ctx) {
        Texts texts = desk.texts(ctx);
        TreatmentEffect found = place.treatments().effect(Query.path(ctx, texts));
        String title = texts.say("effect.title", found.event().substance());
        Shell page = desk.shell(ctx, title, "colonies").at(found.apiary().zone());
        desk.show(
                ctx,
                "treatment",
                page,
                new View(
                        found.event(),
                        found.colony(),
                        found.apiary(),
                        effect(found.efficacy(), page),
                        found.group().map(one -> effect(one, page)).orElse(null),
                        found.alike().size(),
                        found.controls().size(),
                        groups(found, page),
                        found.leftOut().stream()
                                .map(one -> new LeftOut(one.colony(), texts.say(one.why())))
                                .toList()));
    }

    private static Effect effect(Result result, Shell page) {
        if (result instanceof Result.Estimate estimate) {
            return new Effect(
                    page.formats().decimals(ResultText.value(estimate.value(), Quantity.EFFICACY)),
                    page.formats().decimals(ResultText.interval(estimate, Quantity.EFFICACY)),
                    result.remarks());
        }
        return new Effect(
                null,
                page.formats().decimals(ResultText.of(result, Quantity.EFFICACY)),
                result.remarks());
    }

    private static List<Group> groups(TreatmentEffect found, Shell page) {
        List<Pair> all = new ArrayList<>(found.own().stream().toList());
        all.addAll(found.alike());
        all.addAll(found.controls());
        List<Result> results = new ArrayList<>();
        for (Pair pair : all) {
            results.add(result(pair.before()));
            results.add(result(pair.after()));
        }
        OptionalDouble end = IntervalBar.commonEnd(results);
        List<Group> groups = new ArrayList<>();
        add(groups, "effect.own", found.own().stream().toList(), end, page);
        add(groups, "effect.alike", found.alike(), end, page);
        add(groups, "effect.controls", found.controls(), end, page);
        return groups;
    }

    private static void add(
            List<Group> groups, String key, List<Pair> pairs, OptionalDouble end, Shell page) {
        if (!pairs.isEmpty()) {
            String name = page.texts().say(key);
            groups.add(new Group(name, pairs.stream().map(one -> row(one, end, page)).toList()));
        }
    }

    private static Row row(Pair pair, OptionalDouble end, Shell page) {
        return new Row(
                pair.colony(),
                words(pair.before(), page),
                words(pair.after(), page),
                bar(pair.before(), end, page),
                bar(pair.after(), end, page),
                ChronoUnit.DAYS.between(pair.before().day(), pair.after().day()));
    }

    private static Result result(TreatmentEffect.Catch wash) {
        return Infestation.counted(wash.mites(), wash.bees());
    }

    private static String bar(TreatmentEffect.Catch wash, OptionalDouble end, Shell page) {
        return Pictures.small(result(wash), Optional.empty(), end, page);
    }

    private static String words(TreatmentEffect.Catch wash, Shell page) {
        return page.t(
                "effect.caught",
                page.formats().day(wash.day()),
                page.formats().count(wash.mites()),
                page.formats().amount(wash.bees()));
    }
}
