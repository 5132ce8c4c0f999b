package org.evenwash.analysis.spirit;

import java.util.List;
import java.util.Optional;

/**
 * A jar's worth of spirit through its uses: what it started as, what left with the bees, what was
 * added, what evaporated. The strength is a range, because nobody knows how much of the evaporated
 * liquid was spirit: at one end all of it (the batch is weaker: what counts for washing), at the
 * other the mixture as it stood (no weaker: what counts for fire). Water that wet bees bring in is
 * not counted; it only weakens.
 *
 * @param volume_mL left, at 20 °C, by the weaker account
 * @param weakest for judging whether it still washes
 * @param strongest for judging whether it burns
 * @param uses washes so far
 */
public record SpiritBatch(double volume_mL, Strength weakest, Strength strongest, int uses) {

    /** What can happen to a batch. Volumes in mL at 20 °C, at least 0. */
    public sealed interface Event {}

    /** One wash; the wet bees, the sieve and the count took this much with them. */
    public record Wash(double lost_mL) implements Event {
        public Wash {
            atLeastZero(lost_mL);
        }
    }

    /** Fresh or thinned spirit poured in. */
    public record TopUp(double added_mL, Strength strength) implements Event {
        public TopUp {
            atLeastZero(added_mL);
        }
    }

    /** Evaporated, as the keeper measured or guessed it. */
    public record Evaporation(double lost_mL) implements Event {
        public Evaporation {
            atLeastZero(lost_mL);
        }
    }

    public static SpiritBatch fresh(double volume_mL, Strength strength) {
        if (!(volume_mL > 0 && Double.isFinite(volume_mL))) {
            throw new IllegalArgumentException("a batch starts above 0 mL, not " + volume_mL);
        }
        return new SpiritBatch(volume_mL, strength, strength, 0);
    }

    public SpiritBatch after(List<Event> events) {
        SpiritBatch batch = this;
        for (Event event : events) {
            batch = batch.after(event);
        }
        return batch;
    }

    /** @throws IllegalArgumentException if more leaves than is there, or the spirits differ */
    public SpiritBatch after(Event event) {
        if (event instanceof Wash wash) {
            return new SpiritBatch(left_mL(wash.lost_mL()), weakest, strongest, uses + 1);
        }
        if (event instanceof TopUp topUp) {
            return toppedUp(topUp);
        }
        if (event instanceof Evaporation evaporation) {
            return evaporated(evaporation.lost_mL());
        }
        throw new IllegalStateException("unknown event " + event);
    }

    /** Flash point of the strongest account: the cautious one. */
    public Optional<FlashPoint> flashPoint() {
        return FlashPoint.of(strongest);
    }

    private SpiritBatch toppedUp(TopUp topUp) {
        if (topUp.strength().spirit() != weakest.spirit()) {
            throw new IllegalArgumentException(
                    "a batch of "
                            + weakest.spirit().word()
                            + " cannot be topped up with "
                            + topUp.strength().spirit().word()
                            + ": start a new batch");
        }
        Strength mixedWeak = mixed(weakest, topUp);
        double mass = mass(volume_mL, weakest) + mass(topUp.added_mL(), topUp.strength());
        return new SpiritBatch(
                mass == 0 ? 0 : mass / mixedWeak.density20_kgm3(),
                mixedWeak,
                mixed(strongest, topUp),
                uses);
    }

    private Strength mixed(Strength here, TopUp topUp) {
        double hereMass = mass(volume_mL, here);
        double addedMass = mass(topUp.added_mL(), topUp.strength());
        if (hereMass + addedMass == 0) {
            return here;
        }
        double spirit =
                hereMass * here.massFraction() + addedMass * topUp.strength().massFraction();
        return new Strength(here.spirit(), Math.min(1, spirit / (hereMass + addedMass)));
    }

    private SpiritBatch evaporated(double lost_mL) {
        left_mL(lost_mL);
        double before = mass(volume_mL, weakest);
        double gone =
                Math.min(
                        before * weakest.massFraction(),
                        lost_mL * weakest.spirit().density20_kgm3());
        if (before - gone <= 0) {
            return new SpiritBatch(0, weakest, strongest, uses);
        }
        Strength left =
                new Strength(
                        weakest.spirit(),
                        (before * weakest.massFraction() - gone) / (before - gone));
        return new SpiritBatch((before - gone) / left.density20_kgm3(), left, strongest, uses);
    }

    private double left_mL(double lost_mL) {
        if (lost_mL > volume_mL) {
            throw new IllegalArgumentException(
                    lost_mL + " mL cannot leave a batch of " + volume_mL + " mL");
        }
        return volume_mL - lost_mL;
    }

    private static double mass(double volume_mL, Strength strength) {
        return volume_mL * strength.density20_kgm3();
    }

    private static void atLeastZero(double volume_mL) {
        if (!(volume_mL >= 0 && Double.isFinite(volume_mL))) {
            throw new IllegalArgumentException("a volume is at least 0 mL, not " + volume_mL);
        }
    }
}
