## Needs the review of a native speaker.

cautions-first-gas-smell = Usted huele gas. Salga ya de la casa con todos. Si puede hacerlo sin peligro al salir, cierre el gas del calentador. No toque ningún interruptor y no encienda nada. Desde afuera, llame a la compañía de gas o al número de emergencia.
cautions-first-relief-opened = La válvula de alivio se abrió. El agua puede estar demasiado caliente, o la presión demasiado alta. No se acerque a su tubo: puede quemarlo. Apague el calentador. Gas: gire el control a apagado. Eléctrico: baje el interruptor del panel. Llame ya a un contratista con licencia. Nunca tape la válvula.
cautions-first-safety-switch = Saltó el interruptor de seguridad del quemador. Puede que al quemador le falte aire o que el tubo de humos esté tapado. Puede haber monóxido de carbono en el cuarto: un gas mortal que no huele. No lo reinicie. Ventile el cuarto. Si suena una alarma de monóxido de carbono, o alguien está mareado o se siente mal, saque a todos y llame al número de emergencia. Llame ya a un contratista con licencia.

cautions-gas-smell = Si huele a gas: ciérrelo si no hay peligro, salga, y llame desde afuera a la compañía de gas o al número de emergencia.
cautions-relief-or-switch = Si se abrió la válvula de alivio o saltó el interruptor de seguridad del quemador: llame ya a un contratista con licencia.
cautions-hot-water = El agua caliente quema. El tanque sigue caliente horas después de apagarlo.
cautions-breaker-first = Calentador eléctrico: primero baje el interruptor del panel, siempre, antes de vaciar agua. Una resistencia que trabaja en seco se quema.
cautions-carbon-monoxide = Calentador de gas: tenga una alarma de monóxido de carbono cerca de los dormitorios. El tubo de humos y el quemador son para un contratista con licencia.
cautions-licensed-work = Las varillas de ánodo, las tuberías de gas, las válvulas de alivio y los calentadores nuevos son trabajo de un contratista con licencia. Saque un permiso donde el código local lo pida.
cautions-code-and-maker = El código local y las instrucciones del fabricante van antes que todo lo que se dice aquí.
