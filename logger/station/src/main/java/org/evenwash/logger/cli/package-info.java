/** The command line: one file for each command, all listed in {@link org.evenwash.logger.cli.Main}. */
package org.evenwash.logger.cli;
