package org.evenwash.logger.web;

import java.util.ArrayList;
import java.util.List;
import org.evenwash.logger.wash.SecondWash;
import org.evenwash.logger.wash.Workplace;

/** What a study can be narrowed to. */
public record StudyChoices(
        List<Option> apiaries,
        List<Option> operators,
        List<Option> benches,
        List<Option> recipes,
        List<Option> secondWashes) {

    static StudyChoices of(Workplace place, Shell page) {
        Options options = new Options(place, page.texts(), page.formats());
        List<Option> recipes = new ArrayList<>(options.allRecipes());
        recipes.add(new Option(StudyForm.BY_HAND, page.t("study.byHand")));
        return new StudyChoices(
                options.apiaries(),
                options.operators(),
                options.benches(),
                recipes,
                options.each(SecondWash.class));
    }
}
