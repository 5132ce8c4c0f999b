/**
 * Reads protocols and thresholds from YAML, the shipped ones and a keeper's own. A file with mistakes
 * is refused with all of them at once, each with file, line, key, value and what was expected.
 */
package org.evenwash.logger.rules;
