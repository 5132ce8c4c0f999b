package org.evenwash.demo;

import java.time.Duration;
import java.util.Set;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;

/**
 * A person at the simulated bench who goes on washing whatever happens: a fresh jar, START, and after
 * a hold whatever the panel asks for.
 */
final class BenchHand {
    private static final Duration LOOK_AGAIN = Duration.ofMillis(100);
    private static final Set<String> READY_FOR_A_JAR =
            Set.of("IDLE", "COMPLETE", "STOPPED", "ABORTED");

    /** The guided test as the panel asks for it, each step given its time to settle. */
    private static final String[] PROOF_TEST =
            ("proof-test; pause 1; estop; pause 1; release-estop; pause 3; reset; rearm; pause 1;"
                            + " open-lid; pause 1; close-lid; pause 3; rearm; pause 8; rearm; pause 1; settle")
                    .split("; ");

    private static final String SETTLED = "> settle";
    private static final String UNSETTLED = "? not all is done yet";

    private final Yard yard;
    private int starts;

    /** All that was done at the bench has had its effect; while the outbox is locked, its time stands still. */
    private boolean settled = true;

    BenchHand(Yard yard) {
        this.yard = yard;
    }

    /** Works for that long. */
    void work(Duration length) {
        long end_ns = System.nanoTime() + length.toNanos();
        while (System.nanoTime() < end_ns) {
            act();
            pass(LOOK_AGAIN);
        }
    }

    /** Whatever is under way comes to its end, and the jar is out. */
    void tidyUp(Duration atMost) {
        long end_ns = System.nanoTime() + atMost.toNanos();
        while (!settled || !READY_FOR_A_JAR.contains(state(panel()))) {
            if (System.nanoTime() > end_ns) {
                throw new AssertionError("the bench stays " + panel() + "\n" + yard.story());
            }
            act();
            pass(LOOK_AGAIN);
        }
        say("reset", "open-lid", "pause 1", "remove-jar", "pause 1", "settle");
    }

    /** One more wash, from a jar put in to a jar taken out. */
    void oneWholeWash(Duration atMost) {
        tidyUp(atMost);
        long end_ns = System.nanoTime() + atMost.toNanos();
        long before = completed();
        while (completed() == before) {
            if (System.nanoTime() > end_ns) {
                throw new AssertionError("no wash comes to its end\n" + yard.story());
            }
            act();
            pass(LOOK_AGAIN);
        }
        tidyUp(atMost);
    }

    /** How often START was pressed; each began one cycle at most. */
    int starts() {
        return starts;
    }

    private long completed() {
        return yard.controller().said(line -> line.startsWith("COMPLETE"));
    }

    /** Nobody opens the lid for the next jar before the last START has shown what it does. */
    private void act() {
        if (!settled) {
            say("settle");
            return;
        }
        String panel = panel();
        String state = state(panel);
        if (state.equals("IDLE") && panel.contains("PROOF-TEST-DUE")) {
            say(PROOF_TEST);
        } else if (READY_FOR_A_JAR.contains(state)) {
            starts++;
            say("ack", "reset", "change-jar", "pause 1", "start", "settle");
        } else if (state.equals("HELD")) {
            say("reset", "rearm", "restart", "settle");
        }
    }

    /**
     * @param acts the last of them is "settle"
     */
    private void say(String... acts) {
        Program controller = yard.controller();
        for (String act : acts) {
            controller.say(act);
        }
        String answer =
                controller.await(SETTLED, line -> line.equals(SETTLED) || line.equals(UNSETTLED));
        settled = answer.equals(SETTLED);
        if (!settled) {
            controller.await(SETTLED);
        }
    }

    /** The panel's line, such as {@code IDLE, start refused: LID-OPEN}. */
    private String panel() {
        yard.controller().say("status");
        return yard.controller().awaitBefore("> status");
    }

    private static String state(String panel) {
        return panel.split("[ ,]", 2)[0];
    }

    /** Lets real time go by: processes of their own know no other. */
    static void pass(Duration length) {
        try {
            boolean woken = new CountDownLatch(1).await(length.toMillis(), TimeUnit.MILLISECONDS);
            if (woken) {
                throw new AssertionError("nobody counts down");
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new AssertionError("interrupted in a scenario", e);
        }
    }
}
