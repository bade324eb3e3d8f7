## Needs the review of a native speaker.

buying-title = Comprar el próximo
buying-lead = Escoja con calma, antes de que falle el calentador viejo. Aquí está qué pedir, cuánto debe costar y de qué tamaño debe ser.
buying-kind = ¿Qué clase de tanque?
buying-size = ¿De qué tamaño?
buying-place = ¿Dónde va a estar?
buying-head-list = Qué pedir
buying-list-lead = Lleve esta lista. Marque lo que trae la oferta. Los códigos cambian de un lugar a otro. Donde se nombra un código, pregunte qué dice el código local.
buying-source-read = Fuente: { $source }.
buying-source-quoted = Fuente, como otros la citan: { $source }.
buying-source-memory = De memoria, verifíquelo: { $source }.
buying-more = Algunas cosas más que pedir
buying-take = La lista para imprimir (PDF)
buying-paper-title = Calentador de agua: qué pedir
buying-paper-for = Llévela cuando pida una oferta. Marque lo que trae la oferta.

buying-spec-warranty = Una garantía de 9 a 12 años
    .why = Un plazo más largo casi siempre significa un revestimiento más grueso o un ánodo más grande. La mano de obra y las piezas cuestan casi lo mismo.
buying-spec-first-hour = La capacidad de primera hora ("first-hour rating") que su casa necesita
    .why = Dice cuánta agua caliente sale en la hora de más uso. La hoja de cálculo la saca.
buying-spec-anode-port = Una entrada propia para el ánodo, arriba
    .why = Así se puede cambiar la varilla sin desarmar tubos.
buying-spec-anode-rod = Un ánodo que vaya con su agua: de magnesio, de aluminio y zinc o con corriente
    .why = El magnesio protege mejor el tanque. Si con él el agua caliente huele mal: el de aluminio y zinc. El de corriente no se gasta, pero necesita un enchufe.
buying-spec-drain-valve = Una válvula de drenaje de bola, de paso completo, de 3/4 de pulgada (19 mm)
    .why = Una válvula angosta se tapa, y entonces el tanque no se puede lavar. El código pide una entrada de 3/4 de pulgada y una rosca de manguera.
buying-spec-pan-metal = Una bandeja de metal con tubo de desagüe, donde se pueda poner
    .why = Debe tener al menos 1 1/2 pulgadas (38 mm) de hondo y un desagüe de 3/4 de pulgada. Nunca una bandeja de plástico debajo de un calentador de gas. Donde antes no había desagüe, un calentador nuevo tal vez no lo necesite.
buying-spec-pan = Una bandeja con tubo de desagüe, donde se pueda poner
    .why = Debe tener al menos 1 1/2 pulgadas (38 mm) de hondo y un desagüe de 3/4 de pulgada. Donde antes no había desagüe, un calentador nuevo tal vez no lo necesite.
buying-spec-pan-inside = Aquí una fuga hace el mayor daño. Por eso no se quede sin ella.
buying-spec-service-valves = Llaves de servicio con salida para manguera, fría y caliente
    .why = Sin ellas no se puede lavar el sarro.
buying-spec-connectors = Conexiones de agua de acero inoxidable corrugado o de cobre
    .why = Una manguera trenzada tiene hule por dentro. El hule envejece y revienta. Donde el cobre toca el acero, una unión dieléctrica evita el óxido.
buying-spec-expansion-tank = Un tanque de expansión, si el sistema es cerrado
    .why = Lo cierra una válvula de retención o un regulador de presión. El agua crece al calentarse. La presión de la casa puede ser de 80 psi (5.5 bar) a lo más. El aire del tanque se pone a la presión de la casa.
buying-spec-relief-valve = Una válvula de alivio nueva con un tubo correcto
    .why = Abre a lo más a 210 °F (99 °C) o 150 psi (10 bar). Su tubo baja hasta donde todos lo vean y nadie se lastime. Nunca con un tapón, una tapa o una llave.
buying-spec-leak-alarm = Una alarma de fugas, o una válvula que cierra el agua sola
    .why = Cuesta poco comparada con un piso mojado. Ayuda más cuando no hay nadie en casa.
buying-spec-gas-valve = Una llave de gas cerca del calentador
    .why = Usted debe alcanzarla rápido. Los códigos dicen en el mismo cuarto y a menos de 6 pies (1.8 m). Algunos lugares dicen 3 pies (0.9 m).
buying-spec-excess-flow = Una válvula de exceso de flujo de gas en la conexión
    .why = Para el gas si se rompe la línea.
buying-spec-sediment-trap = Una trampa de sedimentos en la línea de gas
    .why = Mantiene la suciedad y las gotas de agua fuera del control de gas.
buying-spec-flue = El tubo de humos y el aire para el quemador, revisados
    .why = Un tubo tapado o muy poco aire produce monóxido de carbono. No se puede oler. Tenga una alarma cerca de los dormitorios.
buying-spec-garage-height = El quemador a 18 pulgadas (46 cm) del piso del garaje, si el código lo pide
    .why = Los vapores de la gasolina se quedan cerca del piso.
buying-spec-circuit = Los cables y el { -breaker }, revisados por un electricista con licencia
    .why = Deben corresponder al calentador nuevo.
buying-spec-air-room = Suficiente aire alrededor de una bomba de calor
    .why = Toma su calor del aire del cuarto. Enfría el cuarto y zumba. El fabricante dice cuánto espacio necesita.
buying-spec-condensate = Un desagüe para el agua que produce una bomba de calor o un calentador de gas de condensación
    .why = La de un calentador de gas es ácida: el código puede pedir un neutralizador.
buying-spec-fit = Un calentador que quepa: su alto y su ancho, medidos antes
    .why = Desde 2015 un tanque de los mismos galones es más alto o más ancho.
buying-spec-straps = Correas donde el suelo puede temblar
    .why = Una en el tercio de arriba y una en el tercio de abajo del tanque.
buying-spec-permit = Un permiso y una inspección
    .why = Otro par de ojos sobre el gas, el tubo de humos y la válvula de alivio. La fecha del permiso también prueba cuándo empieza su garantía.
buying-spec-whole-price = Un solo precio por escrito para todo
    .why = Las ofertas dejan cosas fuera: permiso, llevarse el calentador viejo, bandeja, tanque de expansión, conexiones, válvulas, trabajos por el código, impuesto.
buying-spec-papers = Número de licencia, prueba de seguro y garantía de la mano de obra, por escrito
    .why = Pregunte quién paga la mano de obra cuando falla una pieza que el fabricante cambia. Usted hace el contrato para su propia casa. La asociación no responde por el trabajo.
buying-spec-gas-tube = Un tubo amarillo flexible de gas (CSST), si lo hay, conectado a tierra
    .why = Un rayo puede hacerle agujeros. Pregunte a un electricista con licencia.
buying-spec-clear-space = Nada guardado al lado que se queme o huela a solvente
    .why = Los vapores de gasolina, adelgazador o pegamento pueden prenderse en el quemador.
buying-spec-register = La garantía registrada a su nombre, y los avisos de retiro buscados por modelo y número de serie
    .why = Algunos fabricantes lo piden en pocas semanas. Algunas garantías terminan cuando se vende la casa: si usted llegó después, pregunte al fabricante. Retiros, también del calentador viejo: cpsc.gov/Recalls.

buying-head-price = Cuánto debe costar
buying-hurry = Con urgencia cuesta más.
buying-offer = El precio que le ofrecieron, con todo incluido (dólares)
buying-offer-below = { $usd } está por debajo de lo usual aquí. Pregunte qué dejaron fuera: permiso, bandeja, llevarse el calentador viejo, impuesto.
buying-offer-within = { $usd } es más o menos lo usual. Revise que traiga todo lo de su lista.
buying-offer-above = { $usd } está por encima de lo usual aquí. Puede incluir más trabajo. Pregunte por qué es más, y pida otra oferta a otro contratista.
buying-offer-open = { $usd }: no podemos decir si es caro, porque no tenemos un precio de aquí. Pida la misma lista a otros dos contratistas, y compare.
buying-offer-open-own = { $usd }: aún no podemos decir si es caro. Hacen falta tres precios de aquí. Pida la misma lista a otros dos contratistas, y compare.

buying-head-tankless = ¿Con tanque o sin tanque?
buying-tankless =
    Un tanque tiene agua caliente lista. Se le puede acabar, y al final tiene fugas.
    Un calentador sin tanque calienta el agua mientras corre. No se acaba, y no tiene un tanque que reviente. Cuesta más, y el agua dura le forma sarro.
    Cambiar de tanque a sin tanque es una obra: casi siempre una línea de gas nueva, un tubo de humos nuevo, un permiso y una prueba de presión.
    Por eso decida antes de que falle el tanque. Si se empieza después, puede quedarse de una a dos semanas sin agua caliente.

buying-head-setpoint = Qué tan caliente ponerlo
buying-setpoint = Póngalo a 120 °F (49 °C). Es el consejo de la Comisión de Seguridad de Productos del Consumidor de EE. UU. (CPSC). En este tiempo un adulto se quema gravemente:
buying-burn-seconds = { $fahrenheit } °F ({ $celsius } °C): { $seconds } segundos.
buying-burn-minutes = { $fahrenheit } °F ({ $celsius } °C): { $minutes } minutos.
buying-setpoint-more =
    Los niños se queman mucho más rápido.
    Si el tanque se guarda más caliente, ponga también válvulas contra quemaduras en las duchas (ASSE 1016) y en las llaves (ASSE 1070).
    En agua apenas tibia pueden crecer gérmenes (legionela). Si en casa hay alguien débil o enfermo, pregunte a un médico y a un contratista con licencia si conviene guardar el agua más caliente con una válvula mezcladora (ASSE 1017).

buying-bad-price = Un precio va de { $least } a { $most }. Escríbalo otra vez, en dólares.
