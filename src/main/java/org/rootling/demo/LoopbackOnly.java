package org.rootling.demo;

import java.net.InetAddress;
import java.net.UnknownHostException;
import org.springframework.context.annotation.Profile;
import org.springframework.core.env.Environment;
import org.springframework.stereotype.Component;

/** The demo's passwords are printed, so it must not be reachable from elsewhere: refuse to start otherwise. */
@Component
@Profile("demo")
class LoopbackOnly {

    LoopbackOnly(Environment environment) {
        for (String property : new String[] {"server.address", "management.server.address"}) {
            String address = environment.getProperty(property);
            boolean mayBeMissing =
                    property.startsWith("management") && environment.getProperty("management.server.port") == null;
            if (address == null ? !mayBeMissing : !isLoopback(address)) {
                throw new IllegalStateException("The demo profile serves this machine only, but " + property + " is "
                        + address + ". Leave it out, or start without the demo profile.");
            }
        }
    }

    private static boolean isLoopback(String address) {
        try {
            return InetAddress.getByName(address).isLoopbackAddress();
        } catch (UnknownHostException unknown) {
            return false;
        }
    }
}
