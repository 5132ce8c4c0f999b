package org.evenwash.controller.process;

import static org.evenwash.controller.process.Contact.CLOSED;
import static org.evenwash.controller.process.Contact.OPEN;

import java.util.ArrayList;
import java.util.List;

/**
 * The guided test of emergency stop, lid and one-shot. It watches whether each of them alone drops
 * the contactor, and whether the contactor stays open until someone re-arms it. The motor cannot
 * run meanwhile; the supply stays permitted, or the controller would open the contactor itself and
 * prove nothing.
 *
 * @param step where it is
 * @param since_ns uptime at which the step began
 * @param met_ns uptime since which what the step waits for has been so, {@link #NOT_MET} before
 * @param failure why it failed; empty otherwise
 */
public record ProofTest(Step step, long since_ns, long met_ns, String failure) {
    private static final long NOT_MET = -1;

    static final ProofTest NONE = new ProofTest(Step.NONE, 0, NOT_MET, "");

    /** A step of the test, with what the panel asks of the operator. */
    public enum Step {
        NONE("", 0, 0),
        PRESS_E_STOP("Press the emergency stop.", 60, 200),
        RELEASE_E_STOP("Release the emergency stop. Do not re-arm the motor supply yet.", 60, 2000),
        REARM_AFTER_E_STOP("Press RESET here, then re-arm the motor supply.", 60, 500),
        OPEN_LID("Open the lid.", 60, 200),
        CLOSE_LID("Close the lid. Do not re-arm the motor supply yet.", 60, 2000),
        REARM_AFTER_LID("Re-arm the motor supply.", 60, 500),
        STOP_HEARTBEAT("Hands off: the heartbeat stops.", 2, 0),
        HEARTBEAT_BACK("Hands off: the heartbeat is back.", 4, 2000),
        REARM_AFTER_ONE_SHOT("Re-arm the motor supply.", 60, 500),
        PASSED("Proof test passed.", 0, 0),
        FAILED("Proof test failed. Do not use the bench until it passes.", 0, 0);

        private final String prompt;
        private final long longest_ns;
        private final long settle_ns;

        Step(String prompt, int longest_s, int settle_ms) {
            this.prompt = prompt;
            this.longest_ns = longest_s * 1_000_000_000L;
            this.settle_ns = settle_ms * 1_000_000L;
        }

        /** What the operator is asked to do. */
        public String prompt() {
            return prompt;
        }

        boolean active() {
            return this != NONE && this != PASSED && this != FAILED;
        }
    }

    /** A contactor has this long to drop out once its cause is seen. */
    private static final long DROP_OUT_NS = 500_000_000L;

    /** How long its outcome is shown. */
    private static final long SHOWN_NS = 30_000_000_000L;

    /** Why it failed when the operator gave it up. */
    public static final String LEFT = "left with STOP";

    public boolean active() {
        return step.active();
    }

    /** It ended a moment ago, and whoever did it wants to know how. */
    boolean fresh(long uptime_ns) {
        return step != Step.NONE && uptime_ns - since_ns < SHOWN_NS;
    }

    /** What the panel says: what to do next, or how it ended. */
    String prompt() {
        return failure.isEmpty() ? step.prompt : step.prompt + " Why: " + failure + ".";
    }

    /**
     * It showed a stop chain that does not stop, or was not followed to its end: no earlier proof
     * counts any more. Whoever leaves it with STOP has shown nothing.
     */
    boolean disproved() {
        return step == Step.FAILED && !failure.equals(LEFT);
    }

    /** The loop must go on toggling the heartbeat, except in the one step that tries its absence. */
    boolean wantsHeartbeat() {
        return step != Step.STOP_HEARTBEAT;
    }

    /** Why it cannot begin now; empty when it can. */
    static List<Refusal> refusals(Machine m, Inputs in) {
        List<Refusal> reasons = new ArrayList<>();
        if (m.state() != State.IDLE || m.proof().active()) {
            reasons.add(
                    new Refusal(
                            "PROOF-TEST",
                            "the bench is busy or not IDLE",
                            "let it end, then press RESET"));
        }
        if (in.readings().contactor() != CLOSED) {
            reasons.add(
                    new Refusal(
                            "PROOF-TEST",
                            "the motor supply is not armed, so nothing can be seen to drop it",
                            "press the reset button of the motor supply on the bench"));
        }
        return List.copyOf(reasons);
    }

    ProofTest begin(Inputs in) {
        return at(Step.PRESS_E_STOP, in);
    }

    /** One scan. */
    ProofTest next(Machine m, Inputs in, Command pressed) {
        if (!active()) {
            return this;
        }
        if (pressed == Command.STOP || in.closing()) {
            return failed(in, LEFT);
        }
        Readings now = in.readings();
        boolean armed = now.contactor() == CLOSED;
        boolean open = now.contactor() == OPEN;
        return switch (step) {
            case PRESS_E_STOP ->
                    dropped(
                            now.eStop() == OPEN,
                            open,
                            in,
                            Step.RELEASE_E_STOP,
                            "the emergency stop did not open the contactor");
            case RELEASE_E_STOP ->
                    stayedOpen(
                            now.eStop() == CLOSED,
                            armed,
                            in,
                            Step.REARM_AFTER_E_STOP,
                            "the contactor came back before the motor supply was re-armed");
            case REARM_AFTER_E_STOP -> waited(armed && m.state() == State.IDLE, in, Step.OPEN_LID);
            case OPEN_LID ->
                    dropped(
                            now.lid() == OPEN,
                            open,
                            in,
                            Step.CLOSE_LID,
                            "the lid did not open the contactor");
            case CLOSE_LID ->
                    stayedOpen(
                            now.lid() == CLOSED,
                            armed,
                            in,
                            Step.REARM_AFTER_LID,
                            "the contactor came back before the motor supply was re-armed");
            case REARM_AFTER_LID -> waited(armed, in, Step.STOP_HEARTBEAT);
            case STOP_HEARTBEAT ->
                    dropped(
                            true,
                            open,
                            in,
                            Step.HEARTBEAT_BACK,
                            "the one-shot did not open the contactor when the heartbeat stopped");
            case HEARTBEAT_BACK ->
                    stayedOpen(
                            true,
                            armed,
                            in,
                            Step.REARM_AFTER_ONE_SHOT,
                            "the contactor came back with the heartbeat");
            case REARM_AFTER_ONE_SHOT -> waited(armed, in, Step.PASSED);
            case NONE, PASSED, FAILED -> this;
        };
    }

    /** Once {@code cause} is seen, the contactor must be open within its drop-out time. */
    private ProofTest dropped(boolean cause, boolean open, Inputs in, Step then, String otherwise) {
        boolean overdue = met_ns != NOT_MET && in.uptime_ns() - met_ns > DROP_OUT_NS;
        if (cause && overdue && !open) {
            return failed(in, otherwise);
        }
        if (cause && open && met_ns != NOT_MET && in.uptime_ns() - met_ns >= step.settle_ns) {
            return at(then, in);
        }
        return met(cause, in);
    }

    private ProofTest stayedOpen(
            boolean cause, boolean armed, Inputs in, Step then, String otherwise) {
        return armed ? failed(in, otherwise) : waited(cause, in, then);
    }

    private ProofTest waited(boolean condition, Inputs in, Step then) {
        boolean settled = met_ns != NOT_MET && in.uptime_ns() - met_ns >= step.settle_ns;
        return condition && settled ? at(then, in) : met(condition, in);
    }

    private ProofTest met(boolean condition, Inputs in) {
        if (in.uptime_ns() - since_ns > step.longest_ns) {
            return failed(in, "no answer in time to: " + step.prompt);
        }
        if (condition == (met_ns != NOT_MET)) {
            return this;
        }
        return new ProofTest(step, since_ns, condition ? in.uptime_ns() : NOT_MET, "");
    }

    private static ProofTest at(Step step, Inputs in) {
        return new ProofTest(step, in.uptime_ns(), NOT_MET, "");
    }

    private static ProofTest failed(Inputs in, String why) {
        return new ProofTest(Step.FAILED, in.uptime_ns(), NOT_MET, why);
    }
}
