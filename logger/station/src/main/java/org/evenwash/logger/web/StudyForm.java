package org.evenwash.logger.web;

import java.util.function.Function;
import org.evenwash.logger.store.StudyFilter;
import org.evenwash.logger.wash.SecondWash;

/**
 * Which washes a study looks at, as an address or a form says it.
 *
 * @param filter what narrows it
 * @param secondWash what is taken for granted of its second washes
 */
public record StudyForm(StudyFilter filter, SecondWash secondWash) {
    /** In place of a recipe, for washes shaken without a bench. */
    static final String BY_HAND = "by-hand";

    private static final int LONGEST_BENCH = 32;
    private static final int LONGEST_RECIPE = 80;
    private static final double LONGEST_S = 14_400;

    /** Mistakes are noted with {@code in}. */
    static StudyForm read(Input in) {
        String recipe = in.optionalText("recipe", LONGEST_RECIPE);
        RecipeChoice chosen =
                recipe == null || recipe.equals(BY_HAND)
                        ? new RecipeChoice(recipe == null ? null : StudyFilter.BY_HAND, 0)
                        : RecipeChoice.of(in);
        boolean versioned = chosen.id() != null && chosen.version() > 0;
        StudyFilter filter =
                new StudyFilter(
                        in.optionalId("apiaryId"),
                        in.optionalId("operatorId"),
                        in.optionalText("benchId", LONGEST_BENCH),
                        chosen.id(),
                        versioned ? (Integer) chosen.version() : null,
                        in.optionalDate("from"),
                        in.optionalDate("to"),
                        in.optionalNumber("least_s", 0, LONGEST_S),
                        in.optionalNumber("most_s", 0, LONGEST_S));
        return new StudyForm(filter, in.choiceOr("secondWash", SecondWash.EXHAUSTIVE));
    }

    public String apiaryId() {
        return text(filter.apiaryId(), Object::toString);
    }

    public String operatorId() {
        return text(filter.operatorId(), Object::toString);
    }

    public String benchId() {
        return text(filter.benchId(), id -> id);
    }

    public String recipe() {
        return filter.byHand()
                ? BY_HAND
                : text(filter.recipeId(), id -> id + ":" + filter.recipeVersion());
    }

    public String from() {
        return text(filter.from(), Object::toString);
    }

    public String to() {
        return text(filter.to(), Object::toString);
    }

    public String least_s() {
        return text(filter.least_s(), Formats::plain);
    }

    public String most_s() {
        return text(filter.most_s(), Formats::plain);
    }

    /** Anything beyond the first look. */
    public boolean narrowed() {
        return !filter.equals(StudyFilter.ALL) || secondWash != SecondWash.EXHAUSTIVE;
    }

    private static <T> String text(T value, Function<T, String> words) {
        return value == null ? "" : words.apply(value);
    }
}
