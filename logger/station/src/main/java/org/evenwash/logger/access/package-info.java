/** Who may use the pages: accounts, signing in, sessions and tokens for programs. */
package org.evenwash.logger.access;
