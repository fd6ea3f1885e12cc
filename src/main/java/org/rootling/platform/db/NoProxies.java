package org.rootling.platform.db;

import org.hibernate.boot.registry.StandardServiceRegistryBuilder;
import org.hibernate.bytecode.internal.none.BytecodeProviderImpl;
import org.hibernate.bytecode.spi.BytecodeProvider;
import org.hibernate.service.spi.ServiceContributor;

/**
 * Writes no bytecode for entities: they have no lazy associations (a test sees to it), so that nobody would use the
 * proxies, and a start need not wait for them.
 */
public class NoProxies implements ServiceContributor {

    @Override
    public void contribute(StandardServiceRegistryBuilder services) {
        services.addService(BytecodeProvider.class, new BytecodeProviderImpl());
    }
}
