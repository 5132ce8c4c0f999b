/** Files that survive whatever happens while they are written. */
package org.evenwash.logger.file;
