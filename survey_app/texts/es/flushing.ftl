## Needs the review of a native speaker.

flushing-title = Lavado y ánodo
flushing-lead = Un tanque se debe lavar una vez al año. Así sale lo que se junta en el fondo. Lea todo antes de empezar.
flushing-kind = ¿Qué clase de calentador?
flushing-tankless = Esto es para tanques. A un calentador sin tanque se le quita el sarro de otra manera, según los pasos del fabricante. Pregunte a un contratista con licencia.
flushing-head-not = Cuándo no tocarlo
flushing-not-lead = No lo haga usted mismo si pasa algo de esto. Llame a un contratista con licencia.
flushing-not-home = Según lo que está en el registro, esto vale para su calentador:
flushing-not-never-flushed = El tanque tiene { $years } años o más y nunca se lavó, o nadie lo sabe. Si se remueve, puede empezar a gotear, o su válvula de drenaje puede no volver a cerrar. El contratista decide y le dice el riesgo antes. Tenga a mano una tapa de manguera.
flushing-not-valve-trouble = La válvula de drenaje gotea, está trabada, o es de plástico y vieja.
flushing-not-no-shut-off = La llave del agua fría falta o no cierra, o usted no encuentra el control de gas o el { -breaker }.
flushing-not-tank-leaks = Sale agua del tanque. Un tanque que gotea llegó a su fin.
flushing-not-rust = El agua caliente sale oxidada.
flushing-not-relief-opened = La válvula de alivio se abrió. Llame ahora a un contratista con licencia.
flushing-not-safety-switch = Se disparó el corte de seguridad del quemador. Llame ahora a un contratista con licencia.
flushing-not-place = Está en un ático, o encima de cuartos, y ninguna manguera puede desaguar sin peligro.
flushing-not-person = Usted no puede arrodillarse, levantar una manguera llena de agua o apartarse rápido del agua caliente.
flushing-not-unsure = Usted no está seguro. Esa razón basta.
flushing-not-now = Lo que se avisó de su calentador va primero. Los pasos del lavado vuelven a estar aquí cuando esté resuelto. Hasta entonces no toque el tanque y pregunte a un contratista con licencia.
flushing-head-steps = El orden del trabajo
flushing-steps-lead = Siga este orden. Lea primero la guía del fabricante de su calentador. Va antes que esta lista.
flushing-caution = **Cuidado:** { $what }

flushing-step-heat-off = **Apague el calor.**
    .gas = Gas: gire la perilla a "pilot" (piloto), para que el quemador no pueda arrancar con el tanque vacío. Si la guía del fabricante dice "off" (apagado), apáguelo, y enciéndalo otra vez solo como dice la etiqueta.
    .electric = Eléctrico o bomba de calor: baje su { -breaker }, primero, siempre.
    .look = Usted ve: el quemador se apaga, o la palanca del { -breaker } apunta a "off" (apagado).
    .caution = ¿Huele a gas? { -gas-out } Una resistencia eléctrica sin agua se quema.
flushing-step-pump-off = **Desenchufe la bomba de agua caliente,** si hay una. Es un motor pequeño en el tubo.
flushing-step-cool = **Deje que se enfríe.** Gaste agua caliente o espere unas horas. Un tanque queda caliente mucho tiempo.
    .caution = El agua a 140 °F (60 °C) quema gravemente a un adulto en 6 segundos, y a un niño mucho más rápido. A 120 °F (49 °C) tarda 5 minutos. (Comisión de Seguridad de Productos del Consumidor de EE. UU.)
flushing-step-inlet-closed = **Cierre el agua fría** arriba del calentador.
    .look = Usted ve: el tubo marcado "cold" (frío) o azul, con una palanca o una rueda. Ponga la palanca atravesada al tubo, o gire la rueda a la derecha.
    .caution = Si no gira con la mano, deténgase. No lo fuerce.
flushing-step-hose = **Ponga una manguera en la válvula de drenaje.** Llévela afuera de la casa o a un desagüe del piso.
    .look = Usted ve: una llave pequeña cerca del piso, con rosca para manguera.
    .caution = La punta debe quedar donde el agua caliente no dañe a ninguna persona, animal o planta. Amárrela.
flushing-step-tap-open = **Abra una llave de agua caliente** en la casa. Deja entrar aire. Si no, el tanque no se vacía.
flushing-step-drain-open = **Abra del todo la válvula de drenaje.** Deje que el tanque se vacíe.
    .look = Usted ve: un chorro fuerte, luego uno delgado. Si se detiene en seguida, el sedimento tapa la válvula.
    .caution = El agua puede estar caliente. Póngase a un lado. No meta una herramienta en la válvula: puede no volver a cerrar.
flushing-step-stir = **Remueva el fondo.** Abra el agua fría unos 10 segundos. Ciérrela. Deje que el tanque se vacíe.
    .look = Usted ve: agua turbia con granos blancos o cafés.
flushing-step-again = **Haga eso { $low } o { $high } veces más,** hasta que el agua salga clara.
flushing-step-drain-closed = **Cierre la válvula de drenaje.** Quite la manguera.
    .caution = Si todavía gotea, enrosque una tapa de manguera y llame a un contratista con licencia.
flushing-step-fill = **Llene el tanque.** Abra el agua fría. Deje abierta la llave de agua caliente.
    .look = Usted ve: la llave escupe aire, luego corre pareja. Déjela correr pareja un minuto. Después cierre la llave.
flushing-step-heat-on = **Solo ahora vuelva a prender el calor.** El tanque debe estar lleno.
    .gas = Gas: gire la perilla otra vez a "on" (encendido). Si el piloto no prende, siga la etiqueta, o llame a un contratista con licencia.
    .electric = Eléctrico o bomba de calor: suba el { -breaker }.
    .caution = En un tanque que no está lleno, una resistencia eléctrica se quema en segundos. ¿Huele a gas? { -gas-out }
flushing-step-look-again = **Mire otra vez después de una hora y al día siguiente.** Toque el piso debajo. Anote la fecha. Quite lo que se queme o huela a solvente junto al calentador.
    .caution = Si gotea el tanque mismo, cierre el agua fría, apague el calor y llame a un contratista con licencia.

flushing-head-drain = ¿Cuánto tarda en vaciarse?
flushing-drain-lead = Ponga el tamaño del tanque. El tamaño está en su placa.
flushing-gallons = Galones del tanque
flushing-valve = La válvula de drenaje
flushing-valve-clear = Limpia, de 3/4 de pulgada completos
flushing-valve-narrow = Angosta, unos 3/8 de pulgada por dentro
flushing-valve-clogged = Medio tapada, cerca de 1/4 de pulgada libre
flushing-hose = Pies de manguera
flushing-below = Cuánto más abajo que el tanque queda la punta de la manguera, en pulgadas
flushing-drain-time = { $gallons } galones tardan unos **{ $minutes } { $minutes ->
    [one] minuto
   *[other] minutos
 }** en salir.
flushing-drain-common = En el oficio se dice de { $low } a { $high } minutos para 40 a 50 galones (150 a 190 litros) por una válvula limpia. Es costumbre del oficio, sin fuente.
flushing-drain-long = Esto es más largo. Si tarda todavía mucho más, la válvula puede estar tapada. No meta nada en ella. Pregunte a un contratista con licencia.
flushing-drain-assumed = El tiempo sale de la ley de Torricelli para un tanque que se vacía. Suponemos un tanque alto y una manguera lisa de 5/8 de pulgada (16 mm). Un doblez, sedimento o una llave caliente cerrada lo alargan.
flushing-head-findings = Qué sale, y qué dice
flushing-finding-clear = Agua clara desde el principio
    .says = Bien. Había poco que sacar.
flushing-finding-white-grit = Granos blancos
    .says = Sarro del agua dura. Es lo usual, más con un ablandador.
flushing-finding-jelly = Gelatina blanca y blanda
    .says = Lo que queda del ánodo. Está gastado. Pida pronto a un contratista con licencia que lo vea.
flushing-finding-rust = Agua oxidada
    .says = El tanque se está acabando. Planee ahora uno nuevo.
flushing-finding-flakes = Escamas del revestimiento, como vidrio delgado
    .says = El tanque se está acabando. Planee ahora uno nuevo.
flushing-finding-nothing = No sale nada, o un hilo
    .says = El sedimento tapa la válvula. Deténgase, ciérrela y pregunte a un contratista con licencia.
flushing-head-anode = El ánodo
flushing-anode-what = El tanque es de acero con una capa delgada de vidrio. El ánodo es una varilla de metal adentro. El agua se come primero la varilla. Cuando ya no hay varilla, el agua se come el tanque.
flushing-anode-when = Haga que lo revisen cada 3 a 4 años. Con agua ablandada, antes: se come los ánodos mucho más rápido.
flushing-anode-first = El primer cambio debe llegar a los 4 o 5 años. Después la rosca puede estar pegada. Entonces tal vez no salga sin daño.
flushing-anode-metal = El magnesio protege mejor el tanque. Donde con él el agua huele mal, el aluminio con zinc puede ir mejor. Un ánodo con corriente no se gasta, pero necesita un enchufe.
flushing-anode-hidden = En algunos calentadores la varilla está escondida debajo de la salida de agua caliente. Entonces hay que desarmar tubos. Pregunte al fabricante o al contratista antes del día.
flushing-anode-who = Es trabajo para un contratista con licencia. La rosca está muy apretada, y un tanque que gira puede romper sus tubos.
flushing-head-relief = La válvula de alivio
flushing-relief =
    La válvula de alivio del tanque se abre si hay demasiado calor o demasiada presión. Haga que la prueben una vez al año.
    En la prueba se levanta su palanca un momento. De su tubo sale agua muy caliente. Una válvula vieja puede no volver a cerrar bien.
    Por eso, a una válvula de más de 3 años la debe sacar y mirar un contratista con licencia. La prueba con la palanca solo muestra que se mueve. (National Board of Boiler and Pressure Vessel Inspectors, Bulletin, verano de 1993)
    Unas gotas por minuto son muchas veces suciedad en su asiento. Pregunte a un contratista con licencia. Si se abrió sola, llame a uno ahora. Nunca la tape ni le ponga un tapón.
flushing-head-away = Irse de viaje, y volver
flushing-away =
    Antes de irse: cierre la válvula de agua fría del calentador, o la llave principal de la casa. Gas: gire el control a "vacation" (vacaciones) o "pilot" (piloto). Eléctrico o bomba de calor: use la marca de vacaciones, o baje el { -breaker }.
    Si vuelve después de dos semanas o más: en el tanque puede haberse juntado un gas que se prende (hidrógeno). Primero abra el agua. Después abra unos minutos la llave caliente de la cocina. Nadie fuma, y no haya llama ni chispa cerca de esa llave, ni lavaplatos ni lavadora, hasta que haya corrido.
    Si vuelve después de una semana o más: deje correr cada llave fría dos minutos. Que no salpique: en el agua parada crecen gérmenes.
    Deje que una llave caliente abierta salga sin aire. Solo entonces suba otra vez el calor, como dice la etiqueta. Espere dos horas.
    Después deje correr cada llave caliente hasta que salga agua caliente, otra vez sin salpicar. Ponga en ella un termómetro, no la mano.
flushing-expansion = Al calentarse de { $cold } a { $hot } °F, { $gallons } galones de agua crecen unos { $more } galones. En un sistema cerrado, un tanque de expansión los recibe.
flushing-bad-gallons = Un tanque debe tener de 1 a 500 galones. Lea otra vez su tamaño en la placa.
flushing-bad-valve = El ancho libre de la válvula debe ser de 0.05 a 3 pulgadas. Mídalo otra vez.
flushing-bad-hose = La manguera debe medir a lo más 300 pies de largo y de 0.2 a 3 pulgadas de ancho. Su punta debe quedar de 0 a 240 pulgadas debajo del tanque. Mida otra vez.
flushing-bad-outlet = Un tanque que se vacía tiene un área, una salida y una altura mayores que cero. Su nivel baja, y el factor de la salida es mayor que 0 y a lo más 1. Revise estas cifras.
flushing-bad-temperature = Aquí el agua está de 32 a 212 °F (0 a 100 °C), el tanque tiene más de 0 galones, y el agua caliente no es más fría que la fría. Revise estas cifras.
flushing-bad-pressure = El límite debe ser mayor que la presión de la casa, y el agua que debe recibir mayor que cero. Revise estas cifras.
