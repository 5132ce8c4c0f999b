/**
 * Pictures of the data, the same in a page, on the command line and in a printed report. The interval
 * bar and the cycle strip are drawn here as lists of shapes; every other chart is XChart's, painted
 * into Batik's SVG writer. Colours are the page's own custom properties with fallbacks, so a picture
 * follows the page's light or dark and also stands alone.
 */
package org.evenwash.logger.chart;
