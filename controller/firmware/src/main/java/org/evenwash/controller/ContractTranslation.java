package org.evenwash.controller;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import org.evenwash.controller.config.RecipeSheets;
import org.evenwash.controller.process.BoutEvidence;
import org.evenwash.controller.process.ConformityPoint;
import org.evenwash.controller.process.CycleEvidence;
import org.evenwash.controller.process.Entry;
import org.evenwash.controller.process.Interlocks;
import org.evenwash.controller.process.Interruption;
import org.evenwash.controller.process.Soak;
import org.evenwash.controller.process.Stat;
import org.evenwash.controller.store.EntryTranslation;
import org.evenwash.record.BenchEvent;
import org.evenwash.record.ClockState;
import org.evenwash.record.CycleRecord;
import org.evenwash.record.CycleRecord.BoutDone;
import org.evenwash.record.CycleRecord.Conformity;
import org.evenwash.record.CycleRecord.Range;
import org.evenwash.record.CycleRecord.RestDone;
import org.evenwash.record.Outcome;
import org.evenwash.record.Pass;
import org.evenwash.record.Position;

/** From the machine's words to the message contract's, and back for recipes. The only place. */
final class ContractTranslation implements EntryTranslation {
    /** What ended a cycle of which only a marker is left. */
    static final String POWER_LOST = "POWER-LOST";

    private static final double TRACE_INTERVAL_S = 1;

    private final Identity identity;

    /**
     * Who speaks.
     *
     * @param bootId new at each start of the program
     */
    record Identity(String benchId, UUID bootId, boolean simulated, String version) {}

    ContractTranslation(Identity identity) {
        this.identity = identity;
    }

    /** A marker without an outcome reads as INTERRUPTED: if it is ever sent, that is what it was. */
    @Override
    public CycleRecord cycle(CycleEvidence e, UUID outboxId, long sequence) {
        boolean open = e.outcome() == org.evenwash.controller.process.Outcome.UNFINISHED;
        return new CycleRecord(
                CycleRecord.SCHEMA,
                e.cycleId(),
                identity.benchId(),
                identity.bootId(),
                outboxId,
                sequence,
                identity.simulated(),
                identity.version(),
                positions(e),
                e.continues(),
                RecipeSheets.sheet(e.recipe()),
                open ? Outcome.INTERRUPTED : Outcome.valueOf(e.outcome().name()),
                open ? POWER_LOST : e.endedBy(),
                Instant.ofEpochMilli(e.startedAt_ms()),
                Instant.ofEpochMilli(e.endedAt_ms()),
                clock(e.clockSynchronised()),
                seconds(e.length()),
                seconds(e.recipe().totalAgitation()),
                seconds(e.agitation()),
                e.bouts().stream().mapToDouble(b -> seconds(b.withinTolerance())).sum(),
                e.revolutions(),
                bouts(e),
                rests(e),
                interruptions(e),
                e.warmSpiritAcknowledged() ? List.of("SPIRIT-WARM") : List.of(),
                new CycleRecord.Conditions(
                        range(e.spirit()),
                        range(e.ambient()),
                        range(e.motor()),
                        range(e.supply()),
                        range(e.current())),
                new CycleRecord.ScanHealth(
                        e.scans(), e.lateScans(), 1_000 * seconds(e.worstLate())),
                trace(e.trace()),
                conformity(e, open));
    }

    private static List<Position> positions(CycleEvidence e) {
        List<Position> positions = new ArrayList<>();
        for (org.evenwash.controller.process.Position jar : e.positions()) {
            Soak soak =
                    e.soaks().stream()
                            .filter(s -> s.position() == jar.position())
                            .findFirst()
                            .orElse(null);
            positions.add(
                    new Position(
                            jar.position(),
                            jar.ticketId(),
                            jar.washId(),
                            Pass.valueOf(jar.pass().name()),
                            soak == null ? null : seconds(soak.time()),
                            soak == null ? null : soak.removed()));
        }
        return positions;
    }

    private static List<BoutDone> bouts(CycleEvidence e) {
        List<BoutDone> done = new ArrayList<>();
        for (BoutEvidence bout : e.bouts()) {
            Stat speed = bout.speed();
            done.add(
                    new BoutDone(
                            bout.number(),
                            seconds(bout.at()),
                            seconds(bout.planned().agitation()),
                            seconds(bout.agitation()),
                            bout.planned().speed_rpm(),
                            speed.count() == 0 ? null : speed.mean(),
                            speed.count() == 0 ? null : speed.min(),
                            speed.count() == 0 ? null : speed.max(),
                            bout.revolutions(),
                            seconds(bout.withinTolerance()),
                            bout.planned().reverse()));
        }
        return done;
    }

    /** A rest that was neither asked for nor kept is none. */
    private static List<RestDone> rests(CycleEvidence e) {
        List<RestDone> done = new ArrayList<>();
        for (BoutEvidence bout : e.bouts()) {
            if (!bout.planned().rest().isZero() || !bout.rest().isZero()) {
                done.add(
                        new RestDone(
                                bout.number(),
                                seconds(agitatedUntil(bout, e)),
                                seconds(bout.planned().rest()),
                                seconds(bout.rest())));
            }
        }
        return done;
    }

    /** Since the start of the cycle; holds within the bout put its end off. */
    private static Duration agitatedUntil(BoutEvidence bout, CycleEvidence e) {
        Duration end = bout.at().plus(bout.agitation());
        for (Interruption hold : e.interruptions()) {
            boolean within = hold.at().compareTo(bout.at()) >= 0 && hold.at().compareTo(end) < 0;
            end = within ? end.plus(hold.length()) : end;
        }
        return end;
    }

    private static List<CycleRecord.Interruption> interruptions(CycleEvidence e) {
        return e.interruptions().stream()
                .map(
                        i ->
                                new CycleRecord.Interruption(
                                        i.cause(),
                                        reason(i.cause()),
                                        seconds(i.at()),
                                        seconds(i.length()),
                                        i.bout()))
                .toList();
    }

    private static String reason(String cause) {
        return switch (cause) {
            case "OPERATOR" -> "hold asked for at the panel";
            case "REMOTE" -> "hold asked for from afar";
            default -> Interlocks.row(cause).when();
        };
    }

    private static CycleRecord.SpeedTrace trace(CycleEvidence.SpeedPoints points) {
        List<Double> speeds = new ArrayList<>(points.count());
        for (int i = 0; i < points.count(); i++) {
            float rpm = points.rpm(i);
            speeds.add(Float.isNaN(rpm) ? CycleRecord.SpeedTrace.NO_READING : tenths(rpm));
        }
        return new CycleRecord.SpeedTrace(TRACE_INTERVAL_S, speeds);
    }

    private static Conformity conformity(CycleEvidence e, boolean open) {
        if (open) {
            Conformity.Point end =
                    new Conformity.Point(
                            "ran to its end",
                            false,
                            "power or program were lost; this is what was stored before");
            return new Conformity(false, List.of(end));
        }
        List<Conformity.Point> points = new ArrayList<>();
        for (ConformityPoint point : e.conformity()) {
            points.add(new Conformity.Point(point.point(), point.held(), point.evidence()));
        }
        return new Conformity(points.stream().allMatch(Conformity.Point::ok), points);
    }

    @Override
    public BenchEvent event(Entry.BenchEvent e, UUID eventId, UUID outboxId, long sequence) {
        return new BenchEvent(
                BenchEvent.SCHEMA,
                eventId,
                identity.benchId(),
                identity.bootId(),
                outboxId,
                sequence,
                identity.simulated(),
                Instant.ofEpochMilli(e.wallClock_ms()),
                clock(e.clockSynchronised()),
                Math.max(0, e.uptime_ns() * 1e-9),
                kind(e),
                e.tag(),
                e.cycleId(),
                null,
                e.text());
    }

    private static BenchEvent.Kind kind(Entry.BenchEvent e) {
        return switch (e.kind()) {
            case TRIP -> BenchEvent.Kind.INTERLOCK_TRIPPED;
            case CLEAR -> BenchEvent.Kind.INTERLOCK_CLEARED;
            case ACKNOWLEDGED ->
                    e.tag().equals("CAUTIONS")
                            ? BenchEvent.Kind.CAUTIONS_ACKNOWLEDGED
                            : BenchEvent.Kind.CONDITION_ACKNOWLEDGED;
            case PROOF_TEST_PASSED -> BenchEvent.Kind.PROOF_TEST_PASSED;
            case PROOF_TEST_FAILED -> BenchEvent.Kind.PROOF_TEST_FAILED;
            case EVENTS_LEFT_OUT -> BenchEvent.Kind.EVENTS_LEFT_OUT;
        };
    }

    static ClockState clock(boolean synchronised) {
        return synchronised ? ClockState.SYNCHRONISED : ClockState.UNSYNCHRONISED;
    }

    private static Range range(Stat stat) {
        if (stat.count() == 0) {
            return null;
        }
        // Rounding of the sum may carry the mean of equal values just past them.
        double mean = Math.max(stat.min(), Math.min(stat.max(), stat.mean()));
        return new Range(stat.min(), mean, stat.max());
    }

    static double seconds(Duration duration) {
        return duration.toNanos() / 1e9;
    }

    private static double tenths(double value) {
        return Math.round(value * 10) / 10.0;
    }
}
