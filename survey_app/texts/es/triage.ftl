## Needs the review of a native speaker.

triage-title = Algo anda mal
triage-lead = Conteste una pregunta a la vez. «No estoy seguro» es una buena respuesta.
triage-box = En cualquier momento: ¿pasa algo de esto?
triage-now =
    .gas-smell = Olor a gas, o detector de gas
    .alarm = Alarma de monóxido de carbono, o mareo
    .relief = Sale agua o vapor con fuerza
    .flue = Hollín, o tubo de humos suelto
    .switch = Se disparó el corte de seguridad
triage-back = Un paso atrás
triage-again = Empezar de nuevo
triage-leaking = ¿Está saliendo agua ahora? Qué hacer de inmediato
triage-so-far = Usted dijo: { $answers }
triage-head-first = Haga esto primero
triage-head-why = La causa más común
triage-head-yours = Lo que usted puede hacer
triage-head-theirs = Lo que es para otros
triage-head-cost = Lo que puede costar
triage-head-standing = En su registro
triage-head-cautions = Tenga cuidado
triage-record = Ponerlo en mi registro
triage-recorded = Ya está en su registro.
triage-after = Cuando todos estén a salvo: avisar a la encuesta
triage-after-why = Así nadie manda un equipo a este calentador antes de que lo revisen.
triage-record-form = Cuéntenoslo en el formulario
triage-standing-yes = Esto cambia lo que la encuesta dice de su calentador. Por eso, póngalo en su registro.
triage-standing-no = Esto no cambia nada de lo que la encuesta dice de su calentador.
triage-fate-fatal = El calentador llegó a su fin. Esto no se puede reparar.
triage-fate-recoverable = Esto se puede arreglar. El calentador no está perdido.
triage-fate-unknown-until-seen = Nadie puede saberlo hasta que alguien lo revise.
triage-price-dip-tube = Un tubo de inmersión nuevo: de { $low } a { $high }.
triage-price-thermocouple = Un termopar nuevo: de { $low } a { $high }.
triage-price-gas-control = Un control de gas nuevo: de { $low } a { $high }.
triage-price-relief-valve = Una válvula de alivio nueva: unos { $low }.
triage-price-replacement = Un calentador nuevo del mismo tipo, puesto en el mismo lugar. Con urgencia cuesta más.
triage-price-note = Son los precios usuales de { $when }. No vienen de ninguna fuente publicada. La pieza va sola: la visita se paga aparte.
triage-price-none = No tenemos un precio para esto. Pida primero el precio completo por escrito.

triage-any =
    .gas = Gas
    .electric = Eléctrico, con tanque
    .heat-pump = Bomba de calor, con tanque
    .tankless = No tiene tanque
    .not-sure = No estoy seguro

triage-ask-safety = ¿Hay peligro en este momento?
    .gas-smell = Huele a gas, o suena un detector de gas
    .alarm = Suena una alarma de monóxido de carbono, o alguien cerca está mareado o se siente mal
    .relief = Se abrió la válvula de alivio: sale agua o vapor con fuerza del tubo del costado
    .flue = Hollín, marcas de quemado o plástico derretido en el calentador, llamas fuera de su puerta, o un tubo de humos suelto, oxidado o caído
    .switch = Se disparó el corte de seguridad del quemador
    .none = Nada de esto. Seguir
triage-ask-what = ¿Qué ve, oye o huele?
    .leak = Agua en el calentador, debajo o cerca
    .no-hot = No hay nada de agua caliente
    .runs-out = El agua caliente se acaba muy pronto
    .too-hot = El agua sale demasiado caliente
    .pilot = La llama piloto no se queda encendida
    .noise = Retumba o da chasquidos
    .smell = El agua o el aire huele mal
    .rust = El agua sale café o roja
    .flush = Salió algo raro al lavar el tanque
triage-ask-leak = ¿De dónde sale el agua?
    .shell = Del tanque mismo: la pared, la costura o por debajo
    .top = De un tubo o una unión de arriba
    .relief = Unas gotas del tubo del costado
    .drain = De la válvula de drenaje, cerca del piso
    .condensate = De una manguera delgada de plástico de un calentador con bomba de calor
triage-ask-no-hot = ¿Qué calienta su agua?
triage-ask-gas-off = Mire por la ventanita de abajo del calentador. ¿Qué ve?
    .out = La llama piloto está apagada
    .stays-out = La encendí y se vuelve a apagar
    .switch = Se disparó el corte de seguridad
    .lit = El piloto arde, pero el agua sigue fría
    .no-pilot = No tiene piloto. Se enchufa a la corriente
triage-ask-electric-off = Mire el { -breaker } del calentador. Vaya al panel solo con los pies y las manos secos. ¿Cómo está?
    .tripped = Saltó
    .on = Está encendido
triage-ask-heat-pump-off = Mire la pantalla del calentador. Mire también su { -breaker }, con los pies y las manos secos. ¿Qué encuentra?
    .tripped = El { -breaker } saltó
    .message = La pantalla muestra un mensaje, o nada
    .runs = El ventilador gira, pero el agua sigue fría
triage-ask-runs-out = ¿Cómo empezó?
    .sudden = De repente
    .slow = Poco a poco, en meses o años
    .always = Siempre fue así, o desde que vive aquí más gente
triage-ask-runs-out-kind = ¿Qué calienta su agua?
triage-ask-smell = ¿Dónde está el mal olor?
    .air = En el aire cerca del calentador, o no sé decir
    .hot = Solo en el agua caliente
    .both = También en el agua fría
triage-ask-rust = Abra solo el agua fría y después la caliente. ¿Cuál sale café?
    .hot = Solo la caliente
    .both = También la fría
triage-ask-flush = ¿Qué vio?
    .grit = Arenilla blanca
    .jelly = Gelatina blanca y blanda
    .rust = Óxido, o escamas finas como vidrio
    .valve = La válvula de drenaje no cierra
    .nothing = Salió poca agua o nada

triage-out-gas-smell = Huele a gas. Salga ya
    .why = Se escapa gas de un tubo, de una unión o del calentador. Basta una chispa para encenderlo.
    .yours =
        Salga ya, con todos. Deje la puerta abierta al salir.
        No encienda ni apague nada: ni luz, ni enchufe, ni timbre. No prenda ninguna llama.
        Adentro no use el control del garaje, ni el carro, ni el teléfono.
        Llame desde afuera, lejos de la casa, a la compañía de gas o al 911. Avise a los vecinos de al lado.
        Vuelva a entrar solo cuando ellos lo digan.
    .theirs = La compañía de gas encuentra la fuga. Un contratista con licencia la repara. Nunca la busque con una llama.
triage-out-carbon-monoxide = Puede ser monóxido de carbono. Salga ya
    .first = Saque ya a todos al aire libre. Después llame al 911 desde afuera.
    .why = Un quemador con poco aire, o un tubo de humos tapado, produce monóxido de carbono. No se ve ni se huele. Puede matar.
    .yours =
        Saque a todos al aire libre de inmediato.
        Llame al 911 desde afuera. Diga que puede ser monóxido de carbono.
        Diga quién está mareado, se siente mal o tiene dolor de cabeza.
        Vuelva a entrar solo cuando ellos lo digan.
        Deje el calentador apagado hasta que alguien lo revise.
    .theirs = Los bomberos o la compañía de gas miden el aire. Un contratista con licencia revisa el quemador y el tubo de humos antes de encenderlo otra vez.
triage-out-bad-flue = El quemador o su tubo de humos no está bien. Apáguelo
    .why = El hollín, las marcas de quemado o las llamas fuera de la puerta dicen que al quemador le falta aire, o que el humo no sube por su tubo. Un tubo de humos suelto, perforado por el óxido o caído deja entrar monóxido de carbono a la casa. No se huele. Puede matar.
    .yours =
        ¿Suena una alarma, o alguien está mareado, se siente mal o tiene dolor de cabeza? Todos al aire libre ya. Llame al 911 desde ahí.
        Si no, gire el control de gas del calentador a apagado, si puede hacerlo sin pasar la mano sobre llamas o metal caliente.
        Abra una ventana. Que nadie entre a ese cuarto.
        No toque el tubo de humos: está caliente y puede caerse.
        No lo encienda otra vez. Llame ya a un contratista con licencia.
    .theirs = Un contratista con licencia revisa el quemador, el aire que recibe y todo el tubo de humos antes de encenderlo otra vez. La compañía de gas puede medir el aire.
triage-out-relief-opened = Se abrió la válvula de alivio. Aléjese y apague el calentador
    .why = Puede que el control no apague el quemador y el agua se caliente demasiado. O la presión es demasiado alta. La válvula evitó que el tanque reventara.
    .yours =
        Aleje a todos del tubo. El agua y el vapor queman.
        Gas: gire el control del calentador a apagado, si puede llegar sin peligro.
        Eléctrico o bomba de calor: baje el { -breaker }, con los pies y las manos secos.
        Deje que la válvula suelte el agua. Nunca la tape.
        Llame ya a un contratista con licencia.
    .theirs = Un contratista con licencia averigua por qué se abrió. Hasta entonces el calentador queda apagado. Puede que también haya que cambiar la válvula.
triage-out-safety-switch = Se disparó el corte de seguridad del quemador. Déjelo apagado
    .why = Al quemador le faltó aire, el tubo de humos está tapado, o el quemador no se apagó. Los calentadores hechos desde 2003 tienen el quemador cerrado: la pelusa en su rejilla de aire, o los vapores de gasolina o solventes, también disparan el corte.
    .yours =
        ¿Suena una alarma, o alguien está mareado o se siente mal? Todos al aire libre ya. Llame al 911 desde ahí.
        Si no, gire el control de gas del calentador a apagado y abra una ventana.
        No reinicie el corte y no encienda el quemador.
        Mire desde afuera, con una linterna: ¿está llena de pelusa la rejilla debajo del quemador? Anótelo para el contratista.
        Llame ya a un contratista con licencia.
    .theirs = Un contratista con licencia revisa el aire, el tubo de humos y el quemador. Solo después se puede reiniciar el corte.
triage-out-safety-not-sure = Si tiene duda, haga como si fuera gas
    .why = Lo que se le pone al gas para que se note huele a huevo podrido. También huele así alguna agua. Nadie hace mal en salir demasiado pronto.
    .yours =
        Salga ya, con todos. No encienda ni apague nada. Adentro no use el control del garaje, ni el carro, ni el teléfono.
        Llame desde afuera a la compañía de gas o al 911. Ellos vienen a revisar.
        Si oye o ve salir agua o vapor con fuerza, no se acerque.
        Vuelva a estas preguntas cuando le digan que no hay peligro.
    .theirs = La compañía de gas mide el aire. Un contratista con licencia revisa el calentador.

triage-out-leak-shell = El tanque mismo tiene una fuga
    .why = El óxido perforó el acero. Ninguna reparación lo cierra. Va a empeorar.
    .yours =
        Cierre la válvula de agua fría de arriba del calentador. Si no cierra, cierre la llave principal de la casa.
        Gas: gire el control del calentador a apagado. Eléctrico o bomba de calor: baje el { -breaker }, con los pies y las manos secos.
        Abra la página de la fuga y siga sus pasos.
        Tome fotos antes de limpiar.
        Pida dos precios por escrito, si le da el tiempo.
    .theirs = Un contratista con licencia pone un calentador nuevo, con permiso donde el código local lo pida.
triage-out-leak-fitting = La fuga es de una unión o un tubo de arriba, no del tanque
    .why = Una unión se aflojó, un empaque está gastado o un tubo se oxidó. El tanque puede estar bien.
    .yours =
        Cierre la válvula de agua fría de arriba del calentador.
        Apague el calentador si le cae agua encima. Gas: el control. Eléctrico o bomba de calor: el { -breaker }, con los pies y las manos secos.
        Ponga un balde o una toalla debajo de la gotera. Que el agua no llegue a los cables.
        Seque el tanque y mire otra vez en una hora. Así verá de dónde sale.
        Tome una foto.
    .theirs = Un contratista con licencia aprieta o cambia la unión. No gire usted mismo tubos calientes ni tubos de gas.
triage-out-relief-drips = La válvula de alivio gotea
    .why = Un poco de suciedad no la deja cerrar, el agua no tiene adónde crecer al calentarse, o la válvula está gastada.
    .yours =
        Ponga un balde debajo del tubo. Cuente las gotas de un minuto y anote la fecha.
        Nunca tape el tubo.
        Si las gotas se vuelven un chorro, apague el calentador y llame de inmediato a un contratista.
        Pregunte si su casa necesita un tanque de expansión, o si el que tiene perdió el aire.
    .theirs = Un contratista con licencia limpia o cambia la válvula y mide la presión de la casa. Una válvula vieja que se abre puede no volver a cerrar bien.
triage-out-leak-drain = La fuga es de la válvula de drenaje, no del tanque
    .why = Hay arenilla en la válvula, o su empaque está gastado. Pasa a menudo después de un lavado.
    .yours =
        Gírela con suavidad para cerrarla. No la fuerce: algunas son de plástico y se rompen.
        Enrosque una tapa de manguera en la punta. Muchas veces eso basta.
        Si todavía sale agua, cierre la válvula de agua fría de arriba y apague el calentador.
        El agua está caliente. Aleje las manos y los pies.
    .theirs = Un contratista con licencia cambia la válvula. Pida una válvula de bola de latón.
triage-out-leak-condensate = La bomba de calor produce agua. Su manguera puede estar tapada
    .why = Un calentador con bomba de calor saca agua del aire. Una manguera delgada se la lleva. Puede taparse con lama o con un doblez.
    .yours =
        Mire si la manguera está doblada, congelada o llena de lama.
        Por ahora llévela a un desagüe o a un balde.
        Seque el piso. Mire si el agua vuelve, y de dónde.
        Si sale del tanque, vuelva un paso atrás y dígalo.
    .theirs = Si después sigue mojado, un contratista con licencia revisa la bomba de calor.
triage-out-leak-not-sure = Hay agua y nadie sabe de dónde
    .why = Puede ser el tanque, una unión, una válvula, o solo aire húmedo sobre un tanque frío recién llenado.
    .yours =
        Si corre o se extiende, cierre la válvula de agua fría de arriba del calentador. Después abra la página de la fuga.
        Si solo está húmedo, séquelo todo con una toalla.
        Mire otra vez en una hora: arriba, el tubo del costado, la válvula de drenaje, y después por debajo.
        Ponga papel seco debajo del calentador. Muestra dónde caen las gotas.
        Tome fotos.
    .theirs = Si no la encuentra en un día, llame a un contratista con licencia. El agua del tanque mismo no puede esperar.

triage-out-pilot-out = La llama piloto está apagada
    .why = Una corriente de aire, un corte corto del gas, o poco aire. Los calentadores hechos desde 2003 tienen el quemador cerrado: mire primero si hay pelusa en su rejilla de aire. O se gastó el termopar. Es la varilla pequeña que está en la llama.
    .yours =
        Gire el control de gas a apagado y espere cinco minutos. Huela alrededor del calentador y cerca del piso.
        ¿Huele a gas? { -gas-out }
        ¿Estuvo el calentador dentro del agua? No lo encienda nunca más. Hay que cambiar su control de gas.
        No tenga en ese cuarto gasolina, pintura ni solventes. Sus vapores pueden disparar el corte o prenderse.
        Lea la etiqueta del calentador. Enciéndalo una sola vez, tal como dice la etiqueta, o déjelo a otros.
        Si se apaga otra vez, déjela apagada.
    .theirs = Si no se queda encendida, un contratista con licencia revisa la rejilla de aire, el corte térmico, el termopar y el control de gas.
triage-out-pilot = La llama piloto no se queda encendida
    .why = Los calentadores hechos desde 2003 tienen el quemador cerrado: primero se mira si hay pelusa en su rejilla de aire, o si se disparó su corte térmico. Después, un termopar fuera de lugar o gastado. Por último, un control de gas trabado.
    .yours =
        Gire el control de gas del calentador a apagado y espere cinco minutos. Huela alrededor del calentador y cerca del piso.
        ¿Huele a gas? { -gas-out }
        No la encienda una y otra vez. Se puede juntar gas.
        ¿Estuvo dentro del agua? No lo encienda nunca más. Hay que cambiar su control de gas.
        ¿Hay cerca gasolina, pintura o solventes? Sáquelos del cuarto. Mire si hay pelusa en la rejilla debajo del quemador.
        Anote el tipo, el tamaño y la edad del calentador antes de llamar.
    .theirs = Un contratista con licencia limpia la rejilla de aire, averigua por qué se disparó un corte, y acomoda o cambia el termopar. Para cambiar el control de gas, primero hay que vaciar el tanque.
triage-out-gas-control = El piloto arde, pero el quemador no enciende
    .why = El control está en piloto o en vacaciones, o el control de gas no abre.
    .yours =
        Lea cómo está el control. Si está en piloto o en vacaciones, regréselo a su marca de todos los días.
        Unos 120 °F (49 °C) están bien. El agua más caliente quema.
        Espere una hora. Después llene una taza con agua de una llave caliente y ponga en ella un termómetro de cocina.
        Si sigue fría, deténgase aquí y llame.
    .theirs = Un contratista con licencia revisa y cambia el control de gas. No lo abra usted.
triage-out-gas-powered = Necesita corriente además de gas
    .why = Un calentador con ventilador o con chispa necesita un enchufe. Puede que el enchufe no tenga corriente, o que el calentador muestre una falla con su luz que parpadea.
    .yours =
        Mire si está enchufado, y si una lámpara funciona en ese enchufe.
        Hágalo solo con el piso seco y las manos secas.
        Cuente los parpadeos de la luz y anótelos.
        La hoja del fabricante en el calentador dice qué significan.
    .theirs = El ventilador, el tubo de humos, la chispa y la válvula de gas son para un contratista con licencia.
triage-out-gas-not-sure = Un calentador de gas que sigue frío
    .why = Lo más común es que el piloto esté apagado. También puede que no haya gas en toda la casa.
    .yours =
        Huela alrededor del calentador y cerca del piso. ¿Huele a gas? { -gas-out }
        Mire si la estufa o la calefacción funcionan. Si no llega nada de gas, llame a la compañía de gas.
        No toque el quemador si no ve qué anda mal.
        Tome una foto del control y de la etiqueta para el contratista.
    .theirs = Un contratista con licencia revisa el piloto, el termopar y el control de gas.
triage-out-breaker = Saltó el { -breaker }
    .why = Una resistencia o un cable tiene una falla, o el { -breaker } está gastado.
    .yours =
        Primero busque agua. Si el piso o el calentador está mojado, deje el { -breaker } abajo y llame.
        Abra una llave de agua caliente. ¿Sale llena, sin aire? Solo entonces se puede subir el { -breaker }: una resistencia sin agua se quema.
        Párese en piso seco, con las manos secas. Bájelo por completo y súbalo. Hágalo una sola vez.
        Si salta otra vez, déjelo abajo.
        Si se queda arriba, espere dos horas. Después llene una taza con agua de una llave caliente y ponga en ella un termómetro de cocina.
    .theirs = Un { -breaker } que salta dos veces es para un contratista o electricista con licencia. Lo que hay detrás de las tapas del calentador puede matar.
triage-out-element = Hay corriente, pero el agua sigue fría
    .why = Saltó el corte del propio calentador porque el agua se calentó demasiado, o se quemó una resistencia.
    .yours =
        No quite las tapas. Detrás hay cables con corriente.
        Baje el { -breaker } hasta que alguien lo revise.
        Anote el tamaño y la edad del calentador.
    .theirs = Un contratista con licencia reinicia el corte, averigua por qué saltó y prueba las resistencias.
triage-out-electric-not-sure = Un calentador eléctrico que sigue frío
    .why = Lo más común es que saltó el { -breaker }, o que se quemó una resistencia.
    .yours =
        Nunca vaya al panel con los pies o las manos mojados.
        El { -breaker } del calentador es doble. Muchas veces tiene un letrero. Si saltó, está en el medio.
        Pida a un vecino que mire con usted, o déjelo.
        Si el calentador o el piso está mojado, no toque ninguno de los dos.
    .theirs = Un contratista o electricista con licencia averigua cuál de los dos es.
triage-out-heat-pump = Un calentador con bomba de calor tiene un problema
    .why = Puede estar en vacaciones, tener lleno el filtro de aire, estar en un aire demasiado frío, o tener una pieza dañada.
    .yours =
        Lea la pantalla y anote el mensaje. El manual del fabricante dice qué significa.
        Mire cómo está puesto. Si está en vacaciones, regréselo a su marca de todos los días.
        Limpie el filtro de aire como dice el manual.
        Mientras lo arreglan, puede ponerlo a calentar con la resistencia eléctrica, si todavía puede.
    .theirs = La parte sellada de refrigeración y los cables son para un contratista con licencia. Pregunte primero si la garantía sigue vigente.
triage-out-tankless = Un calentador sin tanque tiene un problema
    .why = Sarro, un filtro de agua lleno, poco gas o poca corriente, o un tubo de humos tapado. La pantalla muchas veces muestra un número.
    .yours =
        ¿Huele a gas? { -gas-out }
        Anote el número. El manual del fabricante dice qué significa.
        Mire si tiene corriente y si el gas está abierto.
        Limpie el filtro de agua si el manual le muestra cómo.
        Anote cuándo se le quitó el sarro por última vez.
    .theirs = El gas, el tubo de humos y los cables son para un contratista con licencia. También quitar el sarro, si usted no lo ha hecho antes.
triage-out-kind-not-sure = No hay agua caliente y nadie sabe de qué tipo es
    .why = A los de gas casi siempre se les apaga el piloto. A los eléctricos casi siempre les salta el { -breaker }.
    .yours =
        Uno de gas tiene arriba un tubo de metal para el humo, y abajo un tubo de gas y una ventanita.
        Uno eléctrico solo tiene tubos de agua y un cable grueso.
        Uno con bomba de calor tiene arriba un ventilador y una pantalla. Uno sin tanque es una caja en la pared.
        Vuelva un paso atrás cuando lo sepa. Si no lo sabe, no lo toque y llame.
    .theirs = Un contratista con licencia lo ve de inmediato. Mande una foto cuando llame.

triage-out-dip-tube = El tubo de inmersión puede estar roto
    .why = Un tubo de adentro lleva el agua fría al fondo del tanque. Si se rompe, el agua fría se mezcla arriba con la caliente.
    .yours =
        Mire si alguien bajó el control.
        Busque pedacitos blancos de plástico en los filtros de las llaves. Pueden venir del tubo.
        Anote desde cuándo es así.
    .theirs = Un contratista con licencia cambia el tubo. Ya que el tanque está abierto, pida que mire el ánodo.
triage-out-lower-element = Una de las dos resistencias puede estar quemada
    .why = Casi todos los tanques eléctricos tienen dos. Cuando se quema la de abajo, solo se calienta la parte de arriba. Con un tubo de inmersión roto se siente igual.
    .yours =
        No quite las tapas. Detrás hay cables con corriente.
        Anote desde cuándo es así, y cuántos minutos de agua caliente tiene.
    .theirs = Un contratista con licencia prueba las dos resistencias y cambia la dañada. Para eso se vacía el tanque, y antes se baja el { -breaker }.
triage-out-runs-out-slow = Lo más probable es que el tanque se llenó de sarro
    .why = El sarro y la arenilla ocupan lugar en el tanque. No dejan que el calor llegue al agua.
    .yours =
        Piense cuándo se lavó por última vez. Lo usual es una vez al año.
        Si no se ha lavado en ocho años o más, no lo haga usted. Puede empezar una fuga.
        Mire si se usa más agua caliente que antes.
    .theirs = Un contratista con licencia lava el tanque, o dice por qué es mejor no tocarlo.
triage-out-too-small = El tanque puede ser muy chico para la casa
    .why = Más gente, una tina más grande o una regadera ancha la gastan. El calentador puede estar bien.
    .yours =
        Mire cómo está el control. Unos 120 °F (49 °C) están bien. El agua más caliente quema.
        Báñense uno después de otro, y no al mismo tiempo que la lavadora.
        Una regadera que gasta menos agua ayuda.
        Vea la página sobre comprar el próximo: ayuda a encontrar el tamaño.
    .theirs = Un contratista con licencia puede poner una válvula mezcladora, o un calentador más grande cuando este haya cumplido.
triage-out-runs-out-not-sure = El agua caliente se acaba y no se sabe por qué
    .why = Puede ser un tubo de inmersión roto, una resistencia quemada, sarro, o un tanque muy chico.
    .yours =
        Mida cuánto dura una ducha caliente. Anótelo con la fecha.
        Mire cómo está el control, y si alguien lo cambió.
        Anote cuándo se lavó el tanque por última vez.
        Hágalo otra vez en una semana. Si empeoró, llame.
    .theirs = Un contratista con licencia lo prueba. Muéstrele las fechas y los tiempos que anotó.
triage-ask-too-hot-kind = ¿Qué calienta su agua?

-too-hot-warn = Avise a todos. El agua de 140 °F (60 °C) quema gravemente la piel en unos seis segundos. Aleje a los niños de las llaves.
-too-hot-measure = Llene una taza con agua de una llave caliente que corra un minuto. Ponga en ella un termómetro de cocina. Nunca pruebe con la mano. Anote lo que marca.
-too-hot-boils = Si lo oye hervir, o sale vapor, aleje a todos del calentador y llame ya a un contratista con licencia.
-too-hot-setting = Unos 120 °F (49 °C) protegen de quemaduras. Hay quien lo tiene a 130 o 140 °F (54 a 60 °C) contra los gérmenes: entonces una válvula mezcladora tiene que enfriar el agua en las llaves.
triage-out-too-hot-gas = Un calentador de gas calienta demasiado el agua
    .why = El control está muy alto, o ya no apaga el quemador. Entonces puede abrirse la válvula de alivio.
    .yours =
        { -too-hot-boils }
        { -too-hot-warn }
        { -too-hot-measure }
        Baje la perilla del control de gas, que está por fuera del calentador. { -too-hot-setting }
        Espere dos horas y mida otra vez.
        ¿Sigue demasiado caliente? Gire el control de gas a apagado.
    .theirs = Si bajarlo no ayuda, el control falló: llame ya a un contratista con licencia. Hasta entonces queda apagado.
triage-out-too-hot-electric = Un tanque eléctrico calienta demasiado el agua
    .why = Un termostato está muy alto o trabado, o una resistencia tiene una falla. Los termostatos están detrás de tapas, sobre cables de 240 voltios.
    .yours =
        { -too-hot-boils }
        { -too-hot-warn }
        { -too-hot-measure }
        No quite las tapas. Los cables de atrás pueden matar.
        Si marca más de 140 °F (60 °C), baje el { -breaker }, con los pies y las manos secos.
    .theirs = Un contratista o electricista con licencia ajusta o cambia los termostatos. { -too-hot-setting }
triage-out-too-hot-heat-pump = Un calentador con bomba de calor calienta demasiado el agua
    .why = Está muy alto en su pantalla, o se trabó el termostato de sus resistencias eléctricas. Ese está detrás de tapas, sobre cables de 240 voltios.
    .yours =
        { -too-hot-boils }
        { -too-hot-warn }
        { -too-hot-measure }
        Bájelo en la pantalla, como dice el manual del fabricante. { -too-hot-setting }
        Espere dos horas y mida otra vez. ¿Sigue demasiado caliente? Baje el { -breaker }, con los pies y las manos secos.
        No quite las tapas. Los cables de atrás pueden matar.
    .theirs = Si la pantalla no ayuda, llame ya a un contratista con licencia. Hasta entonces el calentador queda apagado.
triage-out-too-hot-tankless = Un calentador sin tanque calienta demasiado el agua
    .why = Está muy alto en su panel, o su sensor está cubierto de sarro.
    .yours =
        { -too-hot-warn }
        { -too-hot-measure }
        Bájelo en su panel. { -too-hot-setting }
        Mida otra vez. ¿Sigue demasiado caliente? Apáguelo en su panel.
        Anote el número de la pantalla, si hay uno.
    .theirs = Un contratista con licencia revisa el sensor y quita el sarro.
triage-out-too-hot-not-sure = El agua sale demasiado caliente y nadie sabe qué tipo de calentador es
    .why = Cada tipo se ajusta en otro lugar. En un tanque eléctrico, ese lugar está sobre cables que pueden matar.
    .yours =
        { -too-hot-boils }
        { -too-hot-warn }
        { -too-hot-measure }
        No abra ninguna tapa y no gire nada que no conozca.
        Uno de gas tiene arriba un tubo de metal para el humo, y un tubo de gas. Uno eléctrico solo tiene tubos de agua y un cable grueso. Vuelva un paso atrás cuando lo sepa.
    .theirs = Un contratista con licencia lo ve de inmediato. Mande una foto cuando llame. { -too-hot-setting }
triage-out-rumble = El sarro del fondo lo hace retumbar
    .why = El agua hierve debajo de una capa de sarro y arenilla. Es común con agua dura. Desperdicia calor y gasta el tanque.
    .yours =
        Si golpea fuerte o sale vapor, aleje a todos. Apague el calentador si llega a su control o al { -breaker } sin acercarse. Llame ya a un contratista con licencia.
        Anote cuándo se lavó por última vez.
        Lavarlo cada año es el cuidado usual. Lea primero la página sobre el lavado.
        Si no se ha lavado en ocho años o más, no lo haga usted. Puede empezar una fuga.
    .theirs = Un contratista con licencia lava un tanque viejo o descuidado, o dice que ya es tarde para eso.
triage-out-smell-hot = El ánodo y los gérmenes hacen oler el agua caliente
    .why = Los gérmenes del tanque, casi siempre inofensivos, se alimentan de lo que suelta el ánodo. Huele a huevo podrido. Empeora con agua ablandada y con un tanque sin uso.
    .yours =
        Huela también el aire cerca del calentador. Si el aire huele, puede ser gas. { -gas-out }
        Después de dos semanas o más fuera, lea la página sobre el lavado: ahí dice cómo volver.
        No quite el ánodo para siempre. Sin él, el óxido perfora el tanque.
        El agua muy caliente mata los gérmenes, pero quema. Déjele eso al contratista.
    .theirs = Un contratista con licencia puede lavar y limpiar el tanque, y poner otro tipo de ánodo.
triage-out-smell-both = El olor viene con el agua, no del calentador
    .why = Si el agua fría también huele, la causa está en el suministro, en un filtro o en un ablandador.
    .yours =
        Huela también el aire. Si el aire huele, puede ser gas. { -gas-out }
        Pregunte a un vecino si su agua huele.
        No la beba. Llame a la compañía de agua.
        Mire cuándo se cuidó por última vez el filtro o el ablandador.
    .theirs = La compañía de agua analiza el suministro. Un contratista con licencia revisa un filtro o un ablandador.
triage-out-rust-hot = El tanque puede estar oxidándose por dentro
    .why = El ánodo se gastó y ahora sigue el acero. O se oxida un tubo viejo de hierro del lado caliente.
    .yours =
        Llene una taza blanca cada mañana por tres días, primero fría, después caliente. Tome fotos.
        Ponga una alarma de fugas en el piso, al lado del calentador. Mejor todavía es un cierre que corta el agua solo.
        La bandeja con desagüe es para el próximo calentador. Nadie levanta este: lleno pesa 400 libras (180 kg) o más.
        Busque ahora la válvula de agua fría y vea que gire.
        Empiece a pedir precios. Con tiempo cuesta menos que con urgencia.
    .theirs = Un contratista con licencia mira el ánodo y distingue un tubo oxidado de un tanque oxidado. Si se oxida el tanque, no se puede salvar.
triage-out-rust-both = El óxido viene con el agua, no del calentador
    .why = Si el agua fría también sale café, la causa está en la tubería de la calle o en los tubos de la casa.
    .yours =
        Deje correr el agua fría en una llave diez minutos. Mire si se aclara.
        Pregunte a un vecino si su agua sale café.
        No use agua caliente hasta que se aclare, para que el tanque quede limpio.
        Llame a la compañía de agua si no se aclara.
    .theirs = La compañía de agua atiende la tubería de la calle. Un contratista con licencia atiende los tubos de la casa.
triage-out-rust-not-sure = Averigüe cuál agua sale café
    .why = Si solo la caliente sale café, apunta al tanque. Si la fría sale café, apunta al suministro.
    .yours =
        En la mañana, antes de que corra otra agua, llene una taza blanca con agua fría.
        Después llene una con agua caliente, con cuidado. Tome fotos de las dos.
        Hágalo tres días. Después conteste otra vez.
        Ya que está ahí, mire si hay agua debajo del calentador.
    .theirs = Si solo la caliente sale café, llame en pocos días a un contratista con licencia.

triage-out-flush-grit = La arenilla blanca es sarro. Es lo usual
    .why = La deja el agua dura. Hay más con un ablandador, o después de años sin lavado.
    .yours =
        Siga: revuelva, cierre, vacíe, hasta que el agua salga clara.
        Llene el tanque hasta que la llave caliente abierta salga sin aire. Solo entonces encienda el gas o la corriente.
        Lávelo una vez al año. Anote la fecha.
    .theirs = Si la arenilla no termina o tapa la válvula, llame a un contratista con licencia.
triage-out-flush-jelly = La gelatina blanca es un ánodo gastado
    .why = La varilla de ánodo hizo su trabajo y se acabó. Cuando falta, sigue el acero del tanque.
    .yours =
        Enjuague hasta que el agua salga clara. Llene el tanque antes de encenderlo otra vez.
        Pida pronto un ánodo nuevo. Es barato al lado de un calentador nuevo.
        Anote la fecha y lo que vio. Tome una foto.
    .theirs = Un contratista con licencia cambia el ánodo. En un tanque viejo el tapón puede estar pegado: él decide si lo intenta.
triage-out-flush-rust = Óxido o escamas de vidrio: el tanque se está acabando
    .why = El recubrimiento del tanque se soltó y el acero se oxida. Después viene una fuga. Nadie puede decir cuándo.
    .yours =
        No revuelva más el tanque. Llénelo despacio. Encienda el gas o la corriente solo cuando una llave caliente abierta salga sin aire.
        Vigílelo una hora.
        Ponga una alarma de fugas en el piso, al lado, y vea que la válvula de agua fría gire. La bandeja es para el próximo.
        Pida precios ahora, mientras todavía funciona.
        No se vaya por mucho tiempo sin cerrar la válvula de agua fría.
    .theirs = Un contratista con licencia pone un calentador nuevo, con permiso donde el código local lo pida. Pídale primero que descarte un tubo oxidado.
triage-out-flush-valve = La válvula de drenaje no cierra
    .why = Hay arenilla adentro, o su empaque está gastado. Es usual en una válvula vieja que se abre por primera vez.
    .yours =
        Ábrala del todo unos segundos para que salga la arenilla. Aléjese del agua caliente. Después ciérrela con suavidad.
        Enrosque una tapa de manguera en la punta.
        Si todavía sale agua, cierre la válvula de agua fría de arriba. Deje apagado el gas o la corriente.
        Deje puesta la manguera y llévela a un desagüe.
    .theirs = Un contratista con licencia cambia la válvula. Pida una válvula de bola de latón.
triage-out-flush-clogged = La válvula o el tanque está tapado
    .why = El sarro tapa la válvula, o no entra aire porque no hay una llave caliente abierta.
    .yours =
        Abra una llave de agua caliente en la casa, para que entre aire.
        Mire que la manguera no esté doblada.
        No meta nada en la válvula. Puede salir agua caliente con fuerza.
        Si no sale nada, cierre la válvula y deténgase. Abra el agua fría, llene el tanque y después encienda el calentador.
    .theirs = Un contratista con licencia destapa o cambia la válvula. Si el tanque es viejo y está lleno de sarro, él decide si se lava o no.
triage-out-flush-not-sure = Guarde lo que salió y muéstrelo
    .why = La arenilla blanca es sarro. La gelatina blanca es un ánodo gastado. El óxido o las escamas de vidrio dicen que el tanque se está acabando.
    .yours =
        Recoja un poco en una taza blanca, con cuidado: está caliente. Tome una foto.
        Frótelo cuando esté frío. La arenilla es dura, la gelatina es blanda, las escamas son finas y filosas. Use guantes.
        Mire que la válvula de drenaje cierre bien. Mire otra vez esta noche.
        Llene el tanque hasta que la llave caliente salga sin aire. Solo entonces encienda el gas o la corriente.
    .theirs = Mande la foto a un contratista con licencia y pregúntele qué es.
triage-out-not-sure = Mire estas cinco cosas
    .why = No hace falta saber la causa. Lo que usted ve basta.
    .yours =
        Huela cerca del calentador. ¿Huele a gas? { -gas-out }
        Mire si hay agua debajo y alrededor. Mire el tubo del costado.
        Abra el agua caliente: ¿sale caliente, clara y sin olor?
        Escuche mientras calienta: ¿retumba?
        Tome una foto del calentador y de su etiqueta. Después conteste otra vez, o llame.
    .theirs = Un contratista con licencia puede revisarlo. Llame ya si está caliente, mojado o ruidoso de una manera nueva para usted.
