package org.evenwash.logger.wash;

/** The services of calibration. */
public record Calibrating(
        CalibrationShelf shelf,
        AgitationStudies studies,
        CalibratedRecipes recipes,
        StudyRecipes studyRecipes,
        RecoveryCorrection recovery,
        BeeMeasures measures,
        SpeedChecks speeds) {

    static Calibrating over(Desk desk) {
        CalibrationShelf shelf = new CalibrationShelf(desk);
        AgitationStudies studies = new AgitationStudies(desk);
        return new Calibrating(
                shelf,
                studies,
                new CalibratedRecipes(desk, studies, shelf),
                new StudyRecipes(desk),
                new RecoveryCorrection(desk, studies, shelf),
                new BeeMeasures(desk, shelf),
                new SpeedChecks(desk, shelf));
    }
}
