# Kills the program, its database, or both at random moments under load, and looks for every acknowledged entry.
exec mvn -q -Dquick -Dtest=KilledUnderLoadTest -Drootling.fault-rounds="${ROUNDS:-20}" ${FAULT_SEED:+-Drootling.fault-seed=$FAULT_SEED} -Dsurefire.useFile=false test
