package org.evenwash.logger.web;

import io.javalin.http.Context;
import java.util.List;
import org.evenwash.analysis.Result;
import org.evenwash.logger.store.StudyFilter;
import org.evenwash.logger.wash.AgitationAdvice;
import org.evenwash.logger.wash.AgitationStudy;
import org.evenwash.logger.wash.SecondWash;
import org.evenwash.logger.wash.Workplace;

/** {@code /calibrate/plan}: how many washes at which times tell the agitation time closely enough. */
public final class AgitationPlanPage {
    private static final double USUAL_GUESS_S = 120;
    private static final double USUAL_MITES = 20;
    private static final double USUAL_PERCENT = 20;

    private final FrontDesk desk;
    private final Workplace place;

    AgitationPlanPage(FrontDesk desk, Workplace place) {
        this.desk = desk;
        this.place = place;
    }

    /**
     * @param known whether the guess comes from washes that were made
     * @param wanted_percent half-width of the interval, per cent of the time
     */
    public record View(
            double guess_s,
            double mitesPerWash,
            double wanted_percent,
            boolean known,
            AgitationAdvice advice,
            List<Option> recipes) {
        public String guessText() {
            return Formats.plain(guess_s);
        }

        public String mitesText() {
            return Formats.plain(mitesPerWash);
        }

        public String wantedText() {
            return Formats.plain(wanted_percent);
        }
    }

    void show(Context ctx) {
        Query query = new Query(ctx, desk.texts(ctx));
        Double asked_s = query.optionalNumber("guess_s", 5, 3_600);
        Double mites = query.optionalNumber("mitesPerWash", 1, 1_000);
        Double wanted = query.optionalNumber("wanted_percent", 2, 100);
        double found_s = asked_s == null ? found_s() : 0;
        double guess_s = asked_s != null ? asked_s : found_s > 0 ? found_s : USUAL_GUESS_S;
        double mitesPerWash = mites == null ? USUAL_MITES : mites;
        double wanted_percent = wanted == null ? USUAL_PERCENT : wanted;
        Shell page = desk.shell(ctx, desk.texts(ctx).say("studyPlan.title"), "calibrate");
        desk.show(
                ctx,
                "agitationPlan",
                page,
                new View(
                        guess_s,
                        mitesPerWash,
                        wanted_percent,
                        found_s > 0,
                        AgitationAdvice.of(guess_s, mitesPerWash, wanted_percent / 100),
                        new Options(place, page.texts(), page.formats()).recipes()));
    }

    /** The time to 95 % that stored washes give, to the second; 0 where they give none. */
    private double found_s() {
        AgitationStudy study =
                place.calibrating().studies().study(StudyFilter.ALL, SecondWash.EXHAUSTIVE);
        return study.answers().stream()
                .filter(answer -> answer.share() == 0.95)
                .filter(answer -> answer.time() instanceof Result.Estimate)
                .mapToDouble(answer -> Math.rint(((Result.Estimate) answer.time()).value()))
                .findFirst()
                .orElse(0);
    }
}
