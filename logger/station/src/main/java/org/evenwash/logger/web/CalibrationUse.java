package org.evenwash.logger.web;

import org.evenwash.analysis.Quantity;
import org.evenwash.logger.store.Calibration;
import org.evenwash.logger.wash.PassSheet;
import org.evenwash.logger.wash.WashCalibrations;
import org.evenwash.logger.wash.WashSheet;
import org.evenwash.logger.wash.Workplace;
import org.evenwash.record.Pass;

/**
 * What a wash has to do with calibration: what it rests on, and whether it serves in others.
 *
 * @param bees by which its bees were estimated, null if they were not
 * @param recovery of its recipe, null if none is used
 * @param corrected by that recovery, null without one or without a count
 * @param secondCounted whether it can serve for recovery and agitation time
 * @param leftOutWhy null if nobody left it out
 */
public record CalibrationUse(
        Calibration bees,
        int beesAge_days,
        Calibration recovery,
        int recoveryAge_days,
        ResultLine corrected,
        boolean secondCounted,
        String leftOutWhy) {

    static CalibrationUse of(WashSheet sheet, Workplace place, Shell page) {
        WashCalibrations calibrations = sheet.calibrations();
        return new CalibrationUse(
                calibrations.bees(),
                calibrations.beesAge_days(),
                calibrations.recovery(),
                calibrations.recoveryAge_days(),
                calibrations.corrected() == null
                        ? null
                        : ResultLine.of(calibrations.corrected(), Quantity.INFESTATION, page),
                sheet.pass(Pass.SECOND).flatMap(PassSheet::firstCount).isPresent(),
                place.calibrating().studies().leftOutWhy(sheet.wash().id()).orElse(null));
    }

    /** Whether there is anything to show. */
    public boolean any() {
        return bees != null || recovery != null || secondCounted || leftOutWhy != null;
    }
}
