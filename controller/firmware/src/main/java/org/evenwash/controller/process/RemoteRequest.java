package org.evenwash.controller.process;

/**
 * All that can be asked for from afar. There is no start and no restart in this type, so no message
 * can ever mean one: motion begins at the bench, by someone who sees the lid.
 */
public enum RemoteRequest {
    NONE(Command.NONE),
    HOLD(Command.HOLD),
    STOP(Command.STOP);

    private final Command command;

    RemoteRequest(Command command) {
        this.command = command;
    }

    Command command() {
        return command;
    }
}
