package org.evenwash.logger.wash;

import java.util.LinkedHashMap;
import java.util.Map;
import java.util.UUID;
import org.evenwash.analysis.Quantity;
import org.evenwash.analysis.ResultJson;
import org.evenwash.logger.store.CalibrationKind;
import org.evenwash.logger.store.StudyFilter;
import org.evenwash.record.Ids;

/** Takes the recovery of a recipe into use, to correct infestations by. */
public final class RecoveryCorrection {
    private final Desk desk;
    private final AgitationStudies studies;
    private final CalibrationShelf shelf;

    RecoveryCorrection(Desk desk, AgitationStudies studies, CalibrationShelf shelf) {
        this.desk = desk;
        this.studies = studies;
        this.shelf = shelf;
    }

    /**
     * Corrects infestations washed by a recipe for its recovery, from now on.
     *
     * @return the calibration
     * @throws Refused if the recipe has too few second washes among those chosen
     */
    public UUID use(StudyFilter filter, String recipeId, int version, By by) {
        AgitationStudy study = studies.study(filter.of(recipeId, version), SecondWash.EXHAUSTIVE);
        AgitationStudy.RecipeRecovery found =
                study.recoveries().stream()
                        .findFirst()
                        .orElseThrow(() -> tooFew("a second wash by this recipe"));
        if (!found.enough() || found.newWash().isEmpty()) {
            throw tooFew(
                    "at least 4 washes with 30 mites in both washes together (now "
                            + found.summary().washes()
                            + " and "
                            + found.summary().mites()
                            + ")");
        }
        UUID id = Ids.next();
        return desk.once(
                by,
                "use a recovery",
                id,
                handle ->
                        shelf.put(
                                handle,
                                id,
                                new CalibrationShelf.Draft(
                                        CalibrationKind.RECOVERY,
                                        found.name(),
                                        filter.benchId(),
                                        recipeId,
                                        version,
                                        StudyInputs.of(study, found.washes()),
                                        recovery(found),
                                        true),
                                by));
    }

    private static Refused tooFew(String needs) {
        return Refused.conflict("recovery", "is not known well enough", "it needs " + needs);
    }

    private static Map<String, Object> recovery(AgitationStudy.RecipeRecovery found) {
        Map<String, Object> result = new LinkedHashMap<>();
        result.put("recovery", ResultJson.of(found.recovery(), Quantity.RECOVERY));
        found.newWash()
                .ifPresent(
                        beta -> {
                            result.put("newWashMean", beta.mean());
                            result.put("newWashLower", beta.limits().lower());
                            result.put("newWashUpper", beta.limits().upper());
                        });
        return result;
    }
}
