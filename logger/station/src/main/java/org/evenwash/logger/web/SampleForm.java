package org.evenwash.logger.web;

import java.util.Objects;
import java.util.Optional;
import java.util.UUID;
import org.evenwash.logger.store.BeeMeasure;
import org.evenwash.logger.store.Frame;
import org.evenwash.logger.store.QueenCheck;
import org.evenwash.logger.store.Wash;
import org.evenwash.logger.wash.BeeEstimates;
import org.evenwash.logger.wash.SampleEntry;

/**
 * What is typed about a sample. Bees left open with a fill line or a mass are estimated from the
 * calibration in use, and its uncertainty goes with them.
 */
final class SampleForm {
    private static final double MOST_BEES = 100_000;
    private static final int LONGEST_REMARK = 2_000;

    private SampleForm() {}

    /** Bees, how well they are known, and who counted them. */
    private record Bees(Double number, Double logSd, UUID countedBy, UUID calibrationId) {}

    /**
     * A sample as entered.
     *
     * @param calibrationId by which its bees were estimated just now; null where they were not
     */
    record Entered(SampleEntry sample, UUID calibrationId) {}

    static Entered read(Input in, Wash before, BeeEstimates estimates) {
        BeeMeasure measure = in.choiceOr("beeMeasure", BeeMeasure.NOT_STATED);
        Double mass_g = in.optionalNumber("sampleMass_g", 0.1, 10_000);
        Bees bees =
                bees(
                        in.optionalNumber("bees", 1, MOST_BEES),
                        measure,
                        mass_g,
                        before,
                        in.optionalId("calibrationId"),
                        estimates);
        SampleEntry sample =
                new SampleEntry(
                        in.date("sampledOn"),
                        in.optionalId("operatorId"),
                        in.choiceOr("frame", Frame.NOT_STATED),
                        in.choiceOr("queenCheck", QueenCheck.NOT_STATED),
                        measure,
                        bees.number(),
                        bees.logSd(),
                        mass_g,
                        bees.countedBy(),
                        in.optionalWholeNumber("rinses", 0, 20),
                        HandlingForm.read(in, before.handling()),
                        in.optionalText("remarks", LONGEST_REMARK));
        return new Entered(sample, bees.calibrationId());
    }

    private static Bees bees(
            Double typed,
            BeeMeasure measure,
            Double mass_g,
            Wash before,
            UUID calibrationId,
            BeeEstimates estimates) {
        boolean untouched =
                typed != null && typed.equals(before.bees()) && measure == before.beeMeasure();
        boolean sameMass =
                measure != BeeMeasure.MASS || Objects.equals(mass_g, before.sampleMass_g());
        if (untouched && sameMass) {
            return new Bees(typed, before.beesLogSd(), before.beesCountedBy(), null);
        }
        Optional<BeeEstimates.Estimate> estimate =
                typed == null || untouched
                        ? estimates.of(measure, mass_g, calibrationId)
                        : Optional.empty();
        return estimate.map(
                        one ->
                                new Bees(
                                        one.bees().number(),
                                        one.bees().logSd(),
                                        null,
                                        one.calibrationId()))
                .orElse(new Bees(typed, null, null, null));
    }
}
