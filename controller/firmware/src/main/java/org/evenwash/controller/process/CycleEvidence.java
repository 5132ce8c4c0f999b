package org.evenwash.controller.process;

import java.time.Duration;
import java.util.Arrays;
import java.util.List;
import java.util.UUID;

/**
 * What happened in a cycle, not what was asked. The markers made on the way carry it as far as it
 * got, so that a restart after a power cut can tell the rest of the story.
 *
 * @param continues the cycle whose jar stayed in; null when this one began with its own
 * @param startedAt_ms label, milliseconds since 1970 UTC
 * @param clockSynchronised whether the clock was vouched for at the start and at the end
 * @param endedBy why it was stopped or aborted: tag of the interlock, {@code OPERATOR}, {@code
 *     REMOTE}; null when it ran to its end
 * @param length start to end, monotonic
 * @param agitation of all bouts, the unfinished one included
 * @param revolutions of the shaft over the whole cycle
 * @param bouts those that began
 * @param spirit °C
 * @param ambient °C
 * @param motor °C
 * @param supply V
 * @param current A
 * @param scans executed from start to end
 * @param lateScans of those, later than one period
 * @param worstLate the latest
 * @param warmSpiritAcknowledged the operator went on near the flash point
 * @param soaks one for each jar, in the finished record only
 * @param conformity point by point; empty until the end
 */
public record CycleEvidence(
        UUID cycleId,
        UUID continues,
        Recipe recipe,
        List<Position> positions,
        Outcome outcome,
        String endedBy,
        long startedAt_ms,
        long endedAt_ms,
        boolean clockSynchronised,
        Duration length,
        Duration agitation,
        double revolutions,
        List<BoutEvidence> bouts,
        List<Interruption> interruptions,
        Stat spirit,
        Stat ambient,
        Stat motor,
        Stat supply,
        Stat current,
        long scans,
        long lateScans,
        Duration worstLate,
        boolean warmSpiritAcknowledged,
        List<Soak> soaks,
        List<ConformityPoint> conformity,
        SpeedPoints trace) {

    public CycleEvidence {
        bouts = List.copyOf(bouts);
        interruptions = List.copyOf(interruptions);
        soaks = List.copyOf(soaks);
        conformity = List.copyOf(conformity);
    }

    /** The cycle was what its recipe asked for, in every point. */
    public boolean conforms() {
        return !conformity.isEmpty() && conformity.stream().allMatch(ConformityPoint::held);
    }

    /** With its points of conformity, from all the rest. */
    CycleEvidence judged() {
        return with(outcome, endedBy, Conformity.points(this));
    }

    /** How a restart closes what a power cut left open: the same as far as it got. */
    public CycleEvidence interrupted() {
        return with(Outcome.INTERRUPTED, "POWER", List.of()).judged();
    }

    private CycleEvidence with(Outcome how, String why, List<ConformityPoint> points) {
        return new CycleEvidence(
                cycleId,
                continues,
                recipe,
                positions,
                how,
                why,
                startedAt_ms,
                endedAt_ms,
                clockSynchronised,
                length,
                agitation,
                revolutions,
                bouts,
                interruptions,
                spirit,
                ambient,
                motor,
                supply,
                current,
                scans,
                lateScans,
                worstLate,
                warmSpiritAcknowledged,
                soaks,
                points,
                trace);
    }

    /** Speed once a second from the start, rpm; NaN where none was read. */
    public static final class SpeedPoints {
        private final float[] points_rpm;

        public SpeedPoints(float... points_rpm) {
            this.points_rpm = points_rpm.clone();
        }

        public int count() {
            return points_rpm.length;
        }

        /** Speed {@code second} seconds after the start, rpm. */
        public float rpm(int second) {
            return points_rpm[second];
        }

        public float[] toArray() {
            return points_rpm.clone();
        }

        @Override
        public boolean equals(Object other) {
            return other instanceof SpeedPoints p && Arrays.equals(points_rpm, p.points_rpm);
        }

        @Override
        public int hashCode() {
            return Arrays.hashCode(points_rpm);
        }

        @Override
        public String toString() {
            return Arrays.toString(points_rpm);
        }
    }
}
