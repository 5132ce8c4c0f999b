package org.evenwash.controller;

import java.time.Duration;
import java.util.Queue;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.function.BooleanSupplier;
import java.util.function.Consumer;
import org.evenwash.controller.port.Clock;
import org.evenwash.controller.port.Panel;
import org.evenwash.controller.process.Choice;
import org.evenwash.controller.process.Command;
import org.evenwash.controller.process.Job;
import org.evenwash.controller.process.Status;

/**
 * Buttons pressed at this computer: its terminal, its standard input, or the simulation in the same
 * program. Presses wait in a bounded queue, one for each scan with a pause between, as a finger
 * would. Nothing that comes over a network ends here.
 */
final class LocalPanel implements Panel {
    private static final int MOST_WAITING = 64;

    /** A hand at the bench: a button or a choice, or something done to a simulated bench. */
    private record Press(Command command, Choice choice, Runnable deed) {}

    private final Queue<Press> presses = new ArrayBlockingQueue<>(MOST_WAITING);
    private final Desk desk;
    private final Panel buttons;
    private final Consumer<Status> shown;
    private boolean released = true;
    private BooleanSupplier paused = () -> false;

    /**
     * @param buttons the bench's own buttons; null when it has none
     * @param shown gets what the panel shows; must not block
     */
    LocalPanel(Desk desk, Panel buttons, Consumer<Status> shown) {
        this.desk = desk;
        this.buttons = buttons;
        this.shown = shown;
    }

    /** Presses a button for one scan. False when too many presses wait already. */
    boolean press(Command command) {
        return presses.offer(new Press(command, Choice.NONE, null));
    }

    boolean choose(Choice chosen) {
        return presses.offer(new Press(Command.NONE, chosen, null));
    }

    /** Does something on the scan's thread, in order with the presses. */
    boolean act(Runnable deed) {
        return presses.offer(new Press(Command.NONE, Choice.NONE, deed));
    }

    /** Lets this much of the bench's time pass before the next press. */
    boolean pause(Duration length, Clock clock) {
        return act(
                () -> {
                    long until_ns = clock.uptime_ns() + length.toNanos();
                    paused = () -> clock.uptime_ns() < until_ns;
                });
    }

    @Override
    public Pressed pressed() {
        Pressed down = buttons == null ? Pressed.NOTHING : buttons.pressed();
        if (!released) {
            released = true;
            return down;
        }
        Press press = paused.getAsBoolean() ? null : presses.poll();
        if (press == null) {
            return down;
        }
        released = false;
        if (press.deed() != null) {
            press.deed().run();
        }
        return new Pressed(
                Command.strongest(down.command(), press.command()),
                press.choice() == Choice.NONE ? down.choice() : press.choice());
    }

    @Override
    public Job job() {
        return desk.job();
    }

    @Override
    public void show(Status status) {
        if (buttons != null) {
            buttons.show(status);
        }
        shown.accept(status);
    }
}
