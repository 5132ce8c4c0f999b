package org.evenwash.logger.web;

import io.javalin.http.Context;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import org.evenwash.logger.report.LabelDesk;
import org.evenwash.logger.report.LabelLayout;
import org.evenwash.logger.store.Apiary;
import org.evenwash.logger.store.DayPlan;
import org.evenwash.logger.store.DayPlans;
import org.evenwash.logger.wash.Workplace;

/** {@code /labels}: which colonies or jars get a label, and on what sheet. */
public final class LabelPage {
    private static final int LISTED_DAYS = 8;

    private final FrontDesk desk;
    private final Workplace place;

    LabelPage(FrontDesk desk, Workplace place) {
        this.desk = desk;
        this.place = place;
    }

    /** One label to tick. */
    public record Choice(String id, String name) {}

    /**
     * @param subjects what labels can be made for; the value is the rest of the page's address
     * @param subject the chosen one of them
     * @param field name of the ticked boxes
     * @param dayId of a work list, null for colonies
     */
    public record View(
            List<Option> subjects,
            String subject,
            String field,
            String dayId,
            List<Choice> choices,
            List<Option> layouts,
            String address,
            boolean loopback) {}

    void show(Context ctx) {
        Texts texts = desk.texts(ctx);
        Formats formats = desk.formats(ctx);
        Query query = new Query(ctx, texts);
        List<Option> subjects = subjects(texts, formats);
        String asked = query.text("of");
        String subject =
                subjects.stream()
                        .map(Option::value)
                        .filter(one -> one.equals(asked))
                        .findFirst()
                        .orElse(subjects.isEmpty() ? "" : subjects.get(0).value());
        boolean day = subject.startsWith("day-");
        String address = place.reports().address().orElseGet(() -> own(ctx));
        desk.show(
                ctx,
                "labels",
                desk.shell(ctx, texts.say("label.title"), "more"),
                new View(
                        subjects,
                        subject,
                        day ? "washes" : "colonies",
                        day ? subject.substring(4) : null,
                        subject.isEmpty() ? List.of() : choices(subject, day),
                        layouts(texts, formats),
                        address,
                        LabelDesk.loopback(address)));
    }

    /** As this reader called it: the best guess until somebody wrote a better one. */
    private static String own(Context ctx) {
        return ctx.scheme() + "://" + ctx.host();
    }

    private List<Option> subjects(Texts texts, Formats formats) {
        List<Option> subjects = new ArrayList<>();
        for (Apiary apiary : place.yard().apiaries()) {
            if (!place.yard().colonies(apiary.id()).isEmpty()) {
                subjects.add(
                        new Option(
                                "apiary-" + apiary.id(),
                                texts.say("label.colonies", apiary.name())));
            }
        }
        for (DayPlan plan : place.days().latest(LISTED_DAYS)) {
            subjects.add(
                    new Option(
                            "day-" + plan.id(),
                            texts.say(
                                    "label.jars",
                                    place.yard().apiary(plan.apiaryId()).name(),
                                    formats.day(plan.onDay()))));
        }
        return subjects;
    }

    private List<Choice> choices(String subject, boolean day) {
        if (!day) {
            UUID apiaryId = UUID.fromString(subject.substring("apiary-".length()));
            return place.yard().colonies(apiaryId).stream()
                    .map(one -> new Choice(one.id().toString(), one.name()))
                    .toList();
        }
        return place.days().steps(UUID.fromString(subject.substring("day-".length()))).stream()
                .filter(step -> !step.removed())
                .map(LabelPage::choice)
                .toList();
    }

    private static Choice choice(DayPlans.Step step) {
        return new Choice(step.washId().toString(), step.ordinal() + ". " + step.colony());
    }

    private static List<Option> layouts(Texts texts, Formats formats) {
        return LabelLayout.ALL.stream()
                .map(
                        one ->
                                new Option(
                                        one.id(),
                                        texts.say(
                                                one.single()
                                                        ? "label.layout.single"
                                                        : "label.layout.sheet",
                                                formats.amount(one.width_mm()),
                                                formats.amount(one.height_mm()),
                                                one.onASheet())))
                .toList();
    }
}
