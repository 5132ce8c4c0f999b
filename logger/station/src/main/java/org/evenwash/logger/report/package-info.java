/**
 * What leaves the logger on paper: reports of a wash, a colony, an apiary's day and a calibration, as HTML
 * and as PDF from one {@link org.evenwash.logger.report.Document}, and labels with a QR code.
 */
package org.evenwash.logger.report;
