## Needs the review of a native speaker.

cautions-first-gas-smell = Huele a gas. { -gas-out }
cautions-first-carbon-monoxide = Puede haber monóxido de carbono, un gas mortal que no huele. Saque ya a todos al aire libre. Llame al 911 desde ahí. Vuelva a entrar solo cuando ellos lo digan. El calentador queda apagado hasta que lo revise un contratista con licencia.
cautions-first-bad-flue = El quemador o su tubo de humos no está bien. Puede entrar a la casa monóxido de carbono, un gas mortal que no huele. Si suena una alarma, o alguien está mareado o se siente mal: todos afuera, y llame al 911. Si no, gire el control de gas del calentador a apagado, abra una ventana y llame ya a un contratista con licencia. No lo encienda otra vez.
cautions-first-relief-opened = La válvula de alivio se abrió. El agua puede estar demasiado caliente, o la presión demasiado alta. No se acerque a su tubo: puede quemarlo. Apague el calentador. Gas: gire el control a apagado. Eléctrico: baje el { -breaker }. Llame ya a un contratista con licencia. Nunca tape la válvula.
cautions-first-safety-switch = Se disparó el corte de seguridad del quemador. Puede que al quemador le falte aire o que el tubo de humos esté tapado. Puede haber monóxido de carbono en el cuarto: un gas mortal que no huele. No lo reinicie. Si suena una alarma de monóxido de carbono, o alguien está mareado o se siente mal, saque a todos y llame al 911 desde afuera. Si no, abra una ventana. Llame ya a un contratista con licencia.

cautions-gas-smell = ¿Huele a gas? { -gas-out }
cautions-relief-or-switch = Si se abrió la válvula de alivio o se disparó el corte de seguridad del quemador: llame ya a un contratista con licencia.
cautions-hot-water = El agua caliente quema. El tanque sigue caliente horas después de apagarlo.
cautions-breaker-first = Calentador eléctrico: primero baje el { -breaker }, siempre, antes de vaciar agua. Una resistencia que trabaja en seco se quema.
cautions-carbon-monoxide = Calentador de gas: tenga una alarma de monóxido de carbono cerca de los dormitorios. El tubo de humos y el quemador son para un contratista con licencia.
cautions-licensed-work = Las varillas de ánodo, las tuberías de gas, las válvulas de alivio y los calentadores nuevos son trabajo de un contratista con licencia. Saque un permiso donde el código local lo pida.
cautions-code-and-maker = El código local y las instrucciones del fabricante van antes que todo lo que se dice aquí.
