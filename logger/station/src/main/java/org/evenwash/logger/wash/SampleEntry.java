package org.evenwash.logger.wash;

import java.time.LocalDate;
import java.util.UUID;
import org.evenwash.logger.store.BeeMeasure;
import org.evenwash.logger.store.Frame;
import org.evenwash.logger.store.Handling;
import org.evenwash.logger.store.QueenCheck;
import org.evenwash.logger.store.Wash;

/**
 * All that is entered about a sample; what is null is not known.
 *
 * @param bees above 0; whole where counted
 * @param beesLogSd standard deviation of ln(bees) for an estimate, 0 to 1
 * @param rinses 0 to 20
 */
public record SampleEntry(
        LocalDate sampledOn,
        UUID operatorId,
        Frame frame,
        QueenCheck queenCheck,
        BeeMeasure beeMeasure,
        Double bees,
        Double beesLogSd,
        Double sampleMass_g,
        UUID beesCountedBy,
        Integer rinses,
        Handling handling,
        String remarks) {

    /** What is there now, to change one thing of it. */
    public static SampleEntry of(Wash wash) {
        return new SampleEntry(
                wash.sampledOn(),
                wash.operatorId(),
                wash.frame(),
                wash.queenCheck(),
                wash.beeMeasure(),
                wash.bees(),
                wash.beesLogSd(),
                wash.sampleMass_g(),
                wash.beesCountedBy(),
                wash.rinses(),
                wash.handling(),
                wash.remarks());
    }

    public SampleEntry withBees(BeeMeasure measure, Double number, Double logSd, UUID countedBy) {
        return new SampleEntry(
                sampledOn,
                operatorId,
                frame,
                queenCheck,
                measure,
                number,
                logSd,
                sampleMass_g,
                countedBy,
                rinses,
                handling,
                remarks);
    }

    public SampleEntry withHandling(Handling other) {
        return new SampleEntry(
                sampledOn,
                operatorId,
                frame,
                queenCheck,
                beeMeasure,
                bees,
                beesLogSd,
                sampleMass_g,
                beesCountedBy,
                rinses,
                other,
                remarks);
    }

    SampleEntry checked() {
        Entry.present("day", sampledOn);
        Entry.present("frame", frame);
        Entry.present("queen check", queenCheck);
        Entry.present("how bees were measured", beeMeasure);
        checkBees();
        Entry.range("uncertainty of bees", beesLogSd, 0, 1, "(standard deviation of ln bees)");
        Entry.range("mass of the sample", sampleMass_g, 0.1, 10_000, "g");
        if (rinses != null && (rinses < 0 || rinses > 20)) {
            throw Refused.invalid("rinses", "is " + rinses, "enter 0 to 20");
        }
        HandlingCheck.check(Entry.present("handling", handling));
        Entry.text("remarks", remarks);
        return this;
    }

    private void checkBees() {
        if (bees == null) {
            return;
        }
        if (!(bees > 0 && bees <= 100_000)) {
            throw Refused.invalid(
                    "bees", "is " + bees, "enter how many bees were washed, more than 0");
        }
        if (beeMeasure == BeeMeasure.COUNTED && bees != Math.rint(bees)) {
            throw Refused.invalid(
                    "bees",
                    "is " + bees + " but said to be counted",
                    "enter a whole number, or choose fill line or mass");
        }
    }
}
