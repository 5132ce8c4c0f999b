package org.evenwash.logger.wash;

import org.evenwash.analysis.Result;
import org.evenwash.logger.store.Calibration;

/**
 * The calibrations that a wash rests on.
 *
 * @param bees by which its bees were estimated, null if they were not
 * @param beesAge_days on the day of the sample; 0 where it was made later
 * @param recovery of its recipe, null if none is used
 * @param recoveryAge_days on the day of the sample; 0 where it was made later
 * @param corrected infestation corrected by that recovery, null without one or without a count; for
 *     knowledge beside the one as washed, which thresholds are meant for
 */
public record WashCalibrations(
        Calibration bees,
        int beesAge_days,
        Calibration recovery,
        int recoveryAge_days,
        Result corrected) {}
