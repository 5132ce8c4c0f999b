package org.evenwash.logger.wash;

import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.Stream;
import org.evenwash.analysis.beecount.BeeCount;
import org.evenwash.analysis.infestation.BeesInSample;
import org.evenwash.logger.store.BeeMeasure;
import org.evenwash.logger.store.Calibration;
import org.evenwash.logger.store.CalibrationKind;
import org.evenwash.logger.store.Calibrations;

/**
 * How many bees a sample holds, from the bee-measure calibration in use. Its counted jars stand in
 * {@code calibration.inputs_json}: {@code {"bees": […]}} for a fill line, with {@code "grams": […]} in
 * the same order for mass.
 */
public final class BeeEstimates {
    private final Desk desk;

    BeeEstimates(Desk desk) {
        this.desk = desk;
    }

    /**
     * An estimate and the calibration that it rests on.
     *
     * @param calibrationId to be noted with the wash
     */
    public record Estimate(UUID calibrationId, BeesInSample bees) {}

    /**
     * @param mass_g of the bees; asked for with MASS, else not looked at
     * @param calibrationId which one, null where only one of the measure is in use
     * @return empty without a calibration, with several and none named, or where it has fewer than
     *     three counted jars
     */
    public Optional<Estimate> of(BeeMeasure measure, Double mass_g, UUID calibrationId) {
        if (measure == BeeMeasure.MASS && mass_g == null) {
            return Optional.empty();
        }
        List<Calibration> possible =
                CalibrationKind.of(measure).map(this::inUse).orElse(List.of()).stream()
                        .filter(one -> calibrationId == null || one.id().equals(calibrationId))
                        .toList();
        // Two fill lines hold different numbers of bees: which one was meant is not guessed.
        return possible.size() == 1 ? estimate(possible.get(0), mass_g) : Optional.empty();
    }

    private static Optional<Estimate> estimate(Calibration calibration, Double mass_g) {
        double[] bees = CalibrationShelf.readings(calibration, "bees");
        Optional<BeesInSample> sample =
                calibration.kind() == CalibrationKind.MASS
                        ? BeeCount.sampleByMass(
                                CalibrationShelf.readings(calibration, "grams"), bees, mass_g)
                        : BeeCount.sampleAtFillLine(bees);
        return sample.map(one -> new Estimate(calibration.id(), one));
    }

    /**
     * Cautions about bees that were estimated by a calibration: few counted jars, a mass beyond them.
     *
     * @param mass_g of the bees, null where it is not known
     */
    static List<String> cautions(Calibration calibration, Double mass_g) {
        return calibration.kind() == CalibrationKind.MASS && mass_g == null
                ? List.of()
                : estimate(calibration, mass_g).map(one -> one.bees().remarks()).orElse(List.of());
    }

    /** Notes by which calibration the bees of a wash were estimated. */
    public void note(UUID washId, UUID calibrationId) {
        desk.once(
                By.nobody(),
                "note a bee measure",
                washId,
                handle -> Calibrations.putBeesOf(handle, washId, calibrationId));
    }

    /** Fill lines and masses in use, newest first. */
    public List<Calibration> inUse() {
        return Stream.of(CalibrationKind.FILL_LINE, CalibrationKind.MASS)
                .flatMap(kind -> inUse(kind).stream())
                .sorted(Comparator.comparing(Calibration::usedFrom).reversed())
                .toList();
    }

    private List<Calibration> inUse(CalibrationKind kind) {
        // Jars counted for a demonstration say nothing about real bees.
        return desk.read(handle -> Calibrations.inUse(handle, kind, desk.demonstration()));
    }
}
