package org.evenwash.logger.web;

/** One line of a choice: what is sent, and what a person reads. */
public record Option(String value, String label) {}
