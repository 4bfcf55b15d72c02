package org.fairturn.web;

import java.net.Inet4Address;
import java.net.InetAddress;
import java.net.NetworkInterface;
import java.net.SocketException;
import java.net.UnknownHostException;
import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;

/** What this machine is called in the networks it is in. */
final class Addresses {
    private static final String NAME = lookUp();

    private Addresses() {}

    private static String lookUp() {
        try {
            return InetAddress.getLocalHost().getHostName().toLowerCase(Locale.ROOT);
        } catch (UnknownHostException nameless) {
            return "localhost";
        }
    }

    static String machineName() {
        return NAME;
    }

    /** Addresses a phone in the same network may reach, those of home and office networks first; IPv4, as they are typed. */
    static List<String> inNetwork() {
        List<InetAddress> found = new ArrayList<>();
        try {
            for (NetworkInterface card : Collections.list(NetworkInterface.getNetworkInterfaces())) {
                if (card.isUp() && !card.isLoopback()) {
                    Collections.list(card.getInetAddresses()).stream()
                            .filter(address -> address instanceof Inet4Address && !address.isLinkLocalAddress())
                            .forEach(found::add);
                }
            }
        } catch (SocketException withheld) {
            return List.of();
        }
        return found.stream()
                .sorted(Comparator.comparing((InetAddress address) -> !address.isSiteLocalAddress())
                        .thenComparing(InetAddress::getHostAddress))
                .map(InetAddress::getHostAddress)
                .toList();
    }
}
