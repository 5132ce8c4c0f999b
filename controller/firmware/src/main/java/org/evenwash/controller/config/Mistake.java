package org.evenwash.controller.config;

/**
 * One thing that is wrong with a file that a person wrote.
 *
 * @param line counted from 1; 0 when it concerns the whole file
 * @param what what is wrong, naming the key
 * @param remedy what to do about it
 */
public record Mistake(String file, int line, String what, String remedy) {

    /** One line for a person. */
    public String inWords() {
        return file + (line > 0 ? " line " + line : "") + ": " + what + ". " + remedy + ".";
    }
}
