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

    private final Yard yard;

    BenchHand(Yard yard) {
        this.yard = yard;
    }

    /** Works for that long. */
    void work(Duration length) {
        long end_ns = System.nanoTime() + length.toNanos();
        while (System.nanoTime() < end_ns) {
            act(state());
            pass(LOOK_AGAIN);
        }
    }

    /** Whatever is under way comes to its end, and the jar is out. */
    void tidyUp(Duration atMost) {
        long end_ns = System.nanoTime() + atMost.toNanos();
        String state = state();
        while (!READY_FOR_A_JAR.contains(state)) {
            if (System.nanoTime() > end_ns) {
                throw new AssertionError("the bench stays " + state + "\n" + yard.story());
            }
            act(state);
            pass(LOOK_AGAIN);
            state = state();
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
            act(state());
            pass(LOOK_AGAIN);
        }
        tidyUp(atMost);
    }

    private long completed() {
        return yard.controller().said(line -> line.startsWith("COMPLETE"));
    }

    private void act(String state) {
        if (READY_FOR_A_JAR.contains(state)) {
            say("ack", "reset", "change-jar", "pause 1", "start", "settle");
        } else if (state.equals("HELD")) {
            say("reset", "rearm", "restart", "settle");
        }
    }

    private void say(String... acts) {
        Program controller = yard.controller();
        for (String act : acts) {
            controller.say(act);
        }
        controller.await("> " + acts[acts.length - 1]);
    }

    private String state() {
        yard.controller().say("status");
        String line = yard.controller().awaitBefore("> status");
        int end = line.indexOf(' ');
        String word = end < 0 ? line : line.substring(0, end);
        return word.endsWith(",") ? word.substring(0, word.length() - 1) : word;
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
