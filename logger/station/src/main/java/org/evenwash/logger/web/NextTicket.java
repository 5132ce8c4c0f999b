package org.evenwash.logger.web;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.evenwash.logger.store.DayPlan;
import org.evenwash.logger.store.DayPlans;
import org.evenwash.logger.wash.Workplace;

/**
 * The next ticket of today's work, as a bench offers it: with what ran last, one tap sends it.
 *
 * @param recipe id and version of the last ticket, or of the only recipe; empty where a person has to
 *     choose
 * @param jars highest jar position that this day has used, at least 1
 */
public record NextTicket(
        UUID dayId, String apiary, String colony, int waiting, String recipe, int jars) {
    private static final int DAYS_LOOKED_AT = 5;

    /** Empty where no wash of today waits for a bench. */
    static Optional<NextTicket> of(Workplace place) {
        for (DayPlan day : place.days().latest(DAYS_LOOKED_AT)) {
            var apiary = place.yard().apiary(day.apiaryId());
            if (day.onDay().isBefore(LocalDate.now(apiary.zone()))) {
                continue;
            }
            List<DayPlans.Step> steps = place.days().steps(day.id());
            List<DayPlans.Step> waiting = steps.stream().filter(DayPlans.Step::waits).toList();
            if (!waiting.isEmpty()) {
                int jars =
                        steps.stream()
                                .filter(step -> step.position() != null)
                                .mapToInt(DayPlans.Step::position)
                                .max()
                                .orElse(1);
                return Optional.of(
                        new NextTicket(
                                day.id(),
                                apiary.name(),
                                waiting.get(0).colony(),
                                waiting.size(),
                                recipe(place, day),
                                jars));
            }
        }
        return Optional.empty();
    }

    private static String recipe(Workplace place, DayPlan day) {
        return place.days()
                .recipe(day.id())
                .map(one -> one.recipeId() + ":" + one.version())
                .orElseGet(
                        () -> {
                            var current = place.recipes().current();
                            return current.size() == 1
                                    ? current.get(0).sheet().recipeId()
                                            + ":"
                                            + current.get(0).sheet().version()
                                    : "";
                        });
    }
}
