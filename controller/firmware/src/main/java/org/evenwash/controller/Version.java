package org.evenwash.controller;

/** Which version of the program this is. */
final class Version {
    /** From the jar's manifest; a build from the source tree has none. */
    static final String OF_THIS = ofThis();

    private Version() {}

    private static String ofThis() {
        String version = Version.class.getPackage().getImplementationVersion();
        return version == null ? "from source" : version;
    }
}
