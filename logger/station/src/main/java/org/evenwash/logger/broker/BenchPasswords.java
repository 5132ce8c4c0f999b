package org.evenwash.logger.broker;

/** Whether a bench's password is right. */
@FunctionalInterface
public interface BenchPasswords {
    boolean matches(String benchId, String password);
}
