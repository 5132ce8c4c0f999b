package org.evenwash.logger.cli;

import org.evenwash.logger.wash.BenchLink;
import org.evenwash.record.BenchCommand;
import org.evenwash.record.Ticket;

/** From a command no bench can be reached, and none of them needs one. */
final class NoLink implements BenchLink {
    @Override
    public void send(Ticket ticket) {
        throw new IllegalStateException("a command sends no ticket");
    }

    @Override
    public boolean send(BenchCommand command) {
        throw new IllegalStateException("a command sends no command to a bench");
    }
}
