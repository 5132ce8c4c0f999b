package org.evenwash.controller;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.UUID;
import java.util.function.Consumer;
import org.evenwash.controller.config.RecipeSheets;
import org.evenwash.controller.port.Clock;
import org.evenwash.controller.port.Publisher;
import org.evenwash.controller.process.Interlock;
import org.evenwash.controller.process.ProofRecord;
import org.evenwash.controller.process.Refusal;
import org.evenwash.controller.process.State;
import org.evenwash.controller.process.Status;
import org.evenwash.controller.process.Step;
import org.evenwash.controller.store.OutboxWriter;
import org.evenwash.record.BenchState;
import org.evenwash.record.BenchState.TrippedInterlock;
import org.evenwash.record.CycleRecord;
import org.evenwash.record.LiveReading;
import org.evenwash.record.RecipeSheet;

/**
 * Tells the broker's thread how the bench stands. The scan only leaves the latest status here; what
 * it means on the wire is worked out by whoever sends it.
 */
final class Reporter implements Publisher {
    private final ContractTranslation.Identity identity;
    private final Clock clock;
    private final Desk desk;
    private final OutboxWriter outbox;
    private final BenchMemory memory;
    private final Consumer<LiveReading> live;
    private final Consumer<List<Refusal>> startRefused;
    private final Consumer<State> changed;
    private volatile Status latest;
    private List<Refusal> refused = List.of();
    private State shown;
    private BenchState told;
    private boolean cautionsAcknowledged;

    Reporter(
            ContractTranslation.Identity identity,
            Clock clock,
            Desk desk,
            OutboxWriter outbox,
            BenchMemory memory,
            Consumer<LiveReading> live,
            Consumer<List<Refusal>> startRefused,
            Consumer<State> changed) {
        this.identity = identity;
        this.clock = clock;
        this.desk = desk;
        this.outbox = outbox;
        this.memory = memory;
        this.live = live;
        this.startRefused = startRefused;
        this.changed = changed;
    }

    @Override
    public void state(Status status) {
        latest = status;
        if (!status.refused().equals(refused)) {
            refused = status.refused();
            if (!refused.isEmpty()) {
                startRefused.accept(refused);
            }
        }
        if (status.state() != shown) {
            shown = status.state();
            changed.accept(shown);
        }
    }

    @Override
    public void live(Status s) {
        double most_s = CycleRecord.LONGEST_S;
        live.accept(
                new LiveReading(
                        LiveReading.SCHEMA,
                        identity.benchId(),
                        s.cycleId(),
                        BenchState.State.valueOf(s.state().name()),
                        phase(s),
                        s.bout(),
                        s.bouts(),
                        Math.min(ContractTranslation.seconds(s.elapsed()), most_s),
                        Math.min(ContractTranslation.seconds(s.left()), most_s),
                        ContractTranslation.seconds(s.boutLeft()),
                        s.setpoint_rpm(),
                        orNull(s.speed_rpm()),
                        orNull(s.spirit_C()),
                        orNull(s.supply_V())));
    }

    private static String phase(Status s) {
        boolean shown = s.step() == Step.AGITATE || s.step() == Step.REST;
        return s.state() == State.RUNNING && shown ? s.step().name() : null;
    }

    private static Double orNull(double value) {
        return Double.isNaN(value) ? null : (Double) value;
    }

    /** How the bench stands now; the same object while nothing but time went on. */
    synchronized BenchState current() {
        Status s = latest;
        if (s == null) {
            return BenchState.offline(identity.benchId(), identity.simulated());
        }
        BenchState unstamped = unstamped(s, null);
        if (told == null || !unstamped.equals(withoutTime(told))) {
            told = unstamped(s, Instant.ofEpochMilli(clock.wallClock_ms()));
        }
        return told;
    }

    private BenchState withoutTime(BenchState s) {
        return new BenchState(
                s.schema(),
                s.benchId(),
                s.bootId(),
                s.simulated(),
                s.controllerVersion(),
                null,
                s.clock(),
                s.state(),
                s.cycleId(),
                s.recipe(),
                s.tickets(),
                s.interlocks(),
                s.startRefused(),
                s.cautionsAcknowledged(),
                s.proofTest(),
                s.outbox());
    }

    private BenchState unstamped(Status s, Instant at) {
        UUID cycleId = s.cycleId();
        RecipeSheet sheet = s.recipe() == null ? null : sheet(s);
        if (cycleId == null) {
            cautionsAcknowledged = !against(s, "CAUTIONS");
        }
        return new BenchState(
                BenchState.SCHEMA,
                identity.benchId(),
                identity.bootId(),
                identity.simulated(),
                identity.version(),
                at,
                ContractTranslation.clock(clock.synchronised()),
                BenchState.State.valueOf(s.state().name()),
                cycleId,
                sheet,
                desk.tickets(cycleId != null),
                tripped(s),
                s.againstStart().stream().map(row -> row.tag() + ": " + row.when()).toList(),
                cautionsAcknowledged,
                proofTest(s),
                new BenchState.OutboxState(
                        outbox.outboxId(), outbox.depth(), outbox.lastSequence()));
    }

    /** The desk's own sheet where it fits: a ticket's recipe goes back as it came. */
    private RecipeSheet sheet(Status s) {
        RecipeSheet laid = desk.sheet();
        boolean same = RecipeSheets.recipe(laid).equals(s.recipe());
        return same ? laid : RecipeSheets.sheet(s.recipe());
    }

    private static List<TrippedInterlock> tripped(Status s) {
        List<TrippedInterlock> tripped = new ArrayList<>();
        for (Interlock row : s.tripped()) {
            boolean first = row.tag().equals(s.cause());
            tripped.add(
                    first ? 0 : tripped.size(),
                    new TrippedInterlock(
                            row.tag(),
                            row.kind().name().toLowerCase(Locale.ROOT),
                            row.when(),
                            row.remedy(),
                            first));
        }
        return tripped;
    }

    private BenchState.ProofTest proofTest(Status s) {
        ProofRecord proof = memory.proof();
        boolean due = against(s, "PROOF-TEST-DUE");
        String why = !due ? null : proof.passed() ? "its period is over" : "none passed yet";
        return new BenchState.ProofTest(
                due,
                why,
                proof.passed() ? Instant.ofEpochMilli(proof.at_ms()) : null,
                proof.cyclesSince());
    }

    private static boolean against(Status s, String tag) {
        return s.againstStart().stream().anyMatch(row -> row.tag().equals(tag));
    }

    Status latest() {
        return latest;
    }
}
