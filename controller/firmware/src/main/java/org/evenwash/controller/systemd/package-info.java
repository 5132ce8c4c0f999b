/** Tells systemd that the bench runs, and stops telling when the scan does not. */
package org.evenwash.controller.systemd;
