package org.evenwash.logger.web;

import java.util.List;
import java.util.Map;
import org.evenwash.analysis.Quantity;
import org.evenwash.analysis.ResultJson;
import org.evenwash.analysis.agitation.LackOfFit;
import org.evenwash.analysis.agitation.ModelChoice;
import org.evenwash.analysis.agitation.ReleaseModel;
import org.evenwash.logger.store.StudyFilter;
import org.evenwash.logger.store.StudyWash;
import org.evenwash.logger.wash.AgitationStudy;
import org.evenwash.logger.wash.SecondWash;

/** A study as JSON, in full digits and in words; what could not be fitted is null. */
record StudyDocument(
        StudyFilter filter,
        SecondWash secondWash,
        List<StudyWash> used,
        List<AgitationStudy.LeftOut> leftOut,
        boolean onlyTheLatest,
        List<AgitationStudy.AtTime> byTime,
        List<Time> times,
        ReleaseModel model,
        Double dispersion,
        Double lackOfFitP,
        List<Recipe> recoveries) {

    record Time(double share, Map<String, Object> time_s) {}

    record Recipe(
            String recipeId,
            Integer version,
            String name,
            int washes,
            int mites,
            Map<String, Object> recovery,
            boolean enough) {}

    static StudyDocument of(AgitationStudy study) {
        return new StudyDocument(
                study.filter(),
                study.secondWash(),
                study.used(),
                study.leftOut(),
                study.cut(),
                study.byTime(),
                study.answers().stream()
                        .map(
                                one ->
                                        new Time(
                                                one.share(),
                                                ResultJson.of(one.time(), Quantity.AGITATION_TIME)))
                        .toList(),
                study.choice().map(choice -> choice.chosen().model()).orElse(null),
                study.choice().map(ModelChoice::phi).orElse(null),
                study.choice().flatMap(ModelChoice::lackOfFit).map(LackOfFit::p).orElse(null),
                study.recoveries().stream()
                        .map(
                                one ->
                                        new Recipe(
                                                one.recipeId(),
                                                one.version(),
                                                one.name(),
                                                one.summary().washes(),
                                                one.summary().mites(),
                                                ResultJson.of(one.recovery(), Quantity.RECOVERY),
                                                one.enough()))
                        .toList());
    }
}
