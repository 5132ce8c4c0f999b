package org.evenwash.controller.process;

import java.util.ArrayList;
import java.util.List;

/** Why the button just pressed does nothing: every reason at once, never the first one only. */
final class Refusals {
    private Refusals() {}

    /** Kept until the next button, so that there is time to read them. */
    static List<Refusal> of(Machine m, Command pressed, Choice chosen, Trips trips, Inputs in) {
        if (chosen == Choice.PROOF_TEST) {
            return ProofTest.refusals(m, in);
        }
        return switch (pressed) {
            case START -> againstStart(m, trips);
            case RESTART -> againstRestart(m, trips);
            case RESET, HOLD, STOP, ABORT -> List.of();
            case NONE -> m.refused();
        };
    }

    private static List<Refusal> againstStart(Machine m, Trips trips) {
        List<Refusal> reasons = new ArrayList<>();
        State state = m.state();
        if (state != State.IDLE) {
            String remedy = state.ended() ? "press RESET first" : "let it end, or press STOP";
            reasons.add(new Refusal("NOT-IDLE", "the bench is " + state, remedy));
        }
        if (!state.inCycle()) {
            Trips.rows(trips.againstStart()).forEach(row -> reasons.add(Refusal.of(row)));
            for (String mistake : m.load().mistakes()) {
                reasons.add(new Refusal("NO-RECIPE", mistake, "change the recipe or the ticket"));
            }
        }
        return List.copyOf(reasons);
    }

    private static List<Refusal> againstRestart(Machine m, Trips trips) {
        if (m.state() != State.HELD) {
            String reason = "the bench is " + m.state();
            return List.of(new Refusal("NOT-HELD", reason, "RESTART is for a held cycle"));
        }
        return Trips.rows(trips.againstRestart()).stream().map(Refusal::of).toList();
    }
}
