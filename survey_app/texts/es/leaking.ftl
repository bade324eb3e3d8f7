## Needs the review of a native speaker.

leaking-title = Hay una fuga ahora
leaking-lead = Mantenga la calma. Haga estos pasos en orden. Todo está en esta pantalla: se queda aquí aunque se vaya la red.
leaking-wrong = ¿No sabe si es una fuga? Conteste unas preguntas
leaking-gas = Calentador de gas
leaking-electric = Calentador eléctrico o con bomba de calor
leaking-unsure = Usted no sabe cuál es
leaking-on-file = Su registro dice: { $kind }. Mírelo usted mismo antes de confiarse.

leaking-step-safe = ¿Puede acercarse sin peligro?
    .do =
        ¿Huele a gas? { -gas-out }
        Suena una alarma de monóxido de carbono, o alguien está mareado o se siente mal: todos al aire libre ya. Llame al 911 desde ahí.
        Sale agua o vapor con fuerza del tubo del costado: aleje a todos. Quema. Apague el calentador solo desde donde no le alcance. Llame ya a un contratista con licencia.
        Nunca toque un panel eléctrico, un enchufe o un cable con los pies o las manos mojados.
        Hay agua cerca del panel o de un enchufe: no la pise, y llame al 911 o a la compañía de luz.
leaking-step-water = Cierre el agua fría
    .do =
        Busque arriba del calentador el tubo de agua fría. Muchas veces está marcado en azul o dice «cold». Cierre su válvula.
        Una rueda: gírela a la derecha hasta que pare. Una palanca: gírela hasta que quede atravesada al tubo.
        Si no cierra, si todavía sale agua, o si no llega a ella: cierre la llave principal de la casa.
leaking-step-heat = Apague el calor
    .do =
        Hágalo antes de vaciar agua.
        Desenchufe la bomba de agua caliente, si la hay y si el enchufe está seco. Es un motor pequeño en el tubo.
    .gas =
        Gire la perilla del calentador a «off» (apagado).
        O cierre la válvula del tubo de gas: la palanca queda atravesada al tubo.
        No lo encienda usted otra vez.
    .electric =
        Baje su { -breaker }. Muchas veces es doble.
        Hágalo solo con los pies secos, las manos secas y el piso seco en el camino.
        Si el camino está mojado, no toque el panel y llame a la compañía de luz.
    .unsure =
        Gas: arriba un tubo de metal para el humo, abajo un tubo de gas y una ventanita.
        Eléctrico: solo tubos de agua y un cable grueso.
        Bomba de calor: arriba un ventilador y una pantalla. Trátelo como eléctrico.
        ¿Todavía no sabe? Cierre el agua, deje lo demás y llame a un contratista con licencia.
leaking-step-drain = Vacíe el tanque, si la fuga sigue
    .do =
        Atención: el agua sigue caliente por horas. Quema. Aleje a los niños y a los animales.
        Hágalo solo cuando el calor esté apagado. Si no sabe bien cómo, espere al contratista.
        Enrosque una manguera de jardín en la válvula de drenaje, cerca del piso. Llévela cuesta abajo, a un desagüe o afuera, donde no lastime a nadie.
        Abra una llave de agua caliente en la casa para que entre aire. Después abra despacio la válvula de drenaje.
        Un calentador sin tanque no hay que vaciarlo.
leaking-step-keep = Que el agua no llegue a las paredes ni a las cosas
    .do =
        Ponga toallas contra las paredes. Ponga un balde debajo de la gotera. No levante ni incline el calentador: lleno pesa 400 libras (180 kg) o más.
        Mueva cajas, alfombras y muebles, o póngalos sobre bloques.
        Si el piso está mojado, no toque lo que está enchufado.
leaking-step-photos = Tome fotos antes de limpiar
    .do = El seguro las quiere ver. La lista está más abajo.
leaking-step-call = Pida ayuda
    .do = La lista está más abajo. Un calentador con fuga es trabajo de un contratista con licencia.
leaking-step-dry = Séquelo todo en un día
    .do =
        El moho empieza a crecer en uno o dos días. Abra ventanas y use ventiladores, solo con el piso seco.
        Levante las alfombras mojadas. Saque las cosas de los muebles mojados.
        Paredes o techo mojados: pregunte al seguro por una empresa de secado.

leaking-find-head = Dónde cerrar
leaking-find =
    La válvula de agua fría del calentador: arriba, en el tubo por donde entra el agua fría.
    La llave principal de la casa: donde el tubo de agua entra a la casa. Mire en el garaje, en una pared de afuera al frente, en el sótano o junto al ablandador.
    La caja del medidor cerca de la calle también tiene una. Puede necesitar una herramienta. La compañía de agua la puede cerrar.
    La válvula de gas del calentador: en el tubo de gas, al lado. Si cierra en el medidor el gas de toda la casa, solo la compañía de gas puede abrirlo otra vez.
    Pruebe las válvulas de agua una vez al año, para que giren cuando las necesite.
leaking-photos-head = Fotos para el seguro
leaking-photos =
    La fuga misma, de cerca y de más lejos
    Todo el calentador, y su etiqueta con la fecha
    El piso, las paredes y el techo que se mojaron
    Cada cosa que se dañó
    La pieza que se rompió: guárdela
    Recibos de toallas, ventiladores, secado y hotel
    Un reloj o un teléfono con la fecha en una de las fotos
leaking-insurer = En general, el calentador gastado no está cubierto, pero el daño repentino del agua a paredes y cosas muchas veces sí. Depende de su póliza. Pregunte.
leaking-calls-head = A quién llamar
leaking-call-emergency = Peligro para alguien
    .why = Gas, fuego, o alguien herido o mareado
leaking-call-gas-utility = Compañía de gas
    .why = Cualquier olor a gas, desde afuera
leaking-call-electric-utility = Compañía de luz
    .why = Agua cerca del panel o de un enchufe
leaking-call-water-utility = Compañía de agua
    .why = La llave principal no cierra
leaking-call-contractor = Contratista con licencia
    .why = Para revisar, arreglar o cambiar el calentador
leaking-call-insurer = Seguro
    .why = Antes de limpiar o tirar cosas
leaking-call-volunteer = Voluntario de la asociación
    .why = Los vecinos pueden conocer a un contratista. La asociación no hace el trabajo
leaking-call-blank = escriba aquí el número: __________
leaking-not-head = Lo que no debe hacer
leaking-not =
    No vaya a un panel eléctrico con los pies mojados.
    No tape la válvula de alivio ni su tubo.
    No encienda el quemador ni suba el { -breaker } antes de que una llave caliente abierta salga sin aire.
    No use otra vez un calentador que estuvo dentro de una inundación. Hay que cambiar su control de gas y sus cables.
    No vacíe un tanque eléctrico con el { -breaker } arriba. Las resistencias se queman.
    No trate de sellar el tanque. No se puede reparar.
    No fuerce una válvula pegada. Cierre la llave principal de la casa.
    No tire nada antes de que el seguro lo vea o tenga las fotos.

leaking-card = Descargar esto como tarjeta para imprimir
leaking-card-help = Imprímala ahora y cuélguela junto al calentador. Sirve sin red y sin luz.
leaking-card-title = Si el calentador de agua tiene una fuga
leaking-card-home = Esta casa
leaking-card-blank = Escriba a mano lo que falta.
leaking-card-age = Edad
leaking-card-age-years = { $count ->
    [one] cerca de { $best } año
   *[other] cerca de { $best } años
 } el { $day }
leaking-card-age-between = entre { $low } y { $high } años el { $day }
leaking-card-warranty-end = La garantía termina
leaking-card-warranty-ended = La garantía terminó
leaking-card-about = hacia { $when }
leaking-card-cold-valve = Válvula de agua fría: dónde, rueda o palanca
leaking-card-main = Llave principal: dónde, con qué herramienta
leaking-card-breaker = Interruptor del panel (breaker): qué número, o válvula de gas: dónde
leaking-card-policy = Número de la póliza del seguro
leaking-card-done = hecho
leaking-card-cautions = Tenga cuidado
leaking-card-made = Hecha el { $day } con las respuestas de esta casa. Mírelo usted mismo antes de confiarse.
