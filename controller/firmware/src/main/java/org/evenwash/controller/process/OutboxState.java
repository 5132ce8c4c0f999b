package org.evenwash.controller.process;

/** Whether a record made now would be kept. Anything but WRITABLE refuses a start. */
public enum OutboxState {
    WRITABLE,
    FULL,
    UNWRITABLE
}
