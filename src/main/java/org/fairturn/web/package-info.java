/**
 * The same in the browser: pages served to the laptop itself and, where asked for, to phones in the same network.
 *
 * <p>A handler parses, calls and shows; rules live further down. Every request passes {@code Guard} first. Trials are found
 * by an id that is looked up, never by a path that was sent. Start reading at {@link org.fairturn.web.FairturnServer}.
 *
 * <p>May use: report, chart, finding, uncertainty, folder, trial, units.
 */
package org.fairturn.web;
