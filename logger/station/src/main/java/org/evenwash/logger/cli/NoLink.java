package org.evenwash.logger.cli;

import org.evenwash.logger.wash.BenchLink;
import org.evenwash.record.BenchCommand;
import org.evenwash.record.Ticket;

/** From a command no bench can be reached, and none that uses this needs to. */
final class NoLink implements BenchLink {
    @Override
    public void send(Ticket ticket) {
        throw new IllegalStateException("this command sends no ticket");
    }

    @Override
    public boolean send(BenchCommand command) {
        throw new IllegalStateException("this command sends no command to a bench");
    }
}
