package org.evenwash.controller.port;

import org.evenwash.controller.process.Choice;
import org.evenwash.controller.process.Command;
import org.evenwash.controller.process.Job;
import org.evenwash.controller.process.Status;

/** The operator's side of the bench: the only place from which motion can start. */
public interface Panel {
    /** What is down now; a press too short for a scan is kept for one. Asked once in each scan. */
    Pressed pressed();

    /** Command and choice of one and the same look at the buttons. */
    record Pressed(Command command, Choice choice) {
        public static final Pressed NOTHING = new Pressed(Command.NONE, Choice.NONE);
    }

    /**
     * What is to be run next: a ticket, or a recipe chosen at the panel. The same object while
     * nothing changes; {@link Job#NONE} when nothing is loaded.
     */
    Job job();

    /** Shows the machine; called a few times a second, must not block. */
    void show(Status status);
}
