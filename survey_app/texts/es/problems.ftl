## Needs the review of a native speaker.

problem-unreadable = "{ $typed }" no se puede leer como respuesta a "{ $question }".{ $why }
    .remedy = { $remedy } O déjelo en blanco.
problem-unreadable-minor = "{ $typed }" no se pudo leer y quedó en blanco.
    .remedy = { $remedy }
problem-read-as = { $how }
problem-date-read-as = "{ $typed }" en "{ $question }": { $how }
problem-choose = Elija una de estas: { $choices }.
problem-choose-any = Elija { $choices }.
problem-any-of = las que correspondan de estas: { $choices }
problem-write-number = Escriba un número.
problem-give-date = Dé una fecha.
problem-on = el { $when }
problem-in = en { $when }

problem-address-missing = Falta la dirección.
    .remedy = Escriba el número de la casa y la calle.
problem-refused = No se dio permiso: solo se guardan la dirección y que no quiso.
problem-consent-open = No se dijo si la encuesta puede guardar las respuestas.
    .remedy = Pregunte antes de comunicarse con la casa o de contarla entre las que participan.
problem-symptoms-and-none = "Nada raro" no se tomó en cuenta, porque se eligió algo más junto con eso.

# Common practice, no source.
problem-safety-smell-of-gas = El olor a gas va antes que todo lo demás.
    .remedy = { -gas-out } El trabajo con gas es para un contratista con licencia. { $rest }
problem-safety-carbon-monoxide-alarm-or-illness = El monóxido de carbono va antes que todo lo demás.
    .remedy = Saque a todos al aire libre, llame al 911 desde ahí, vuelva a entrar solo cuando ellos lo digan, y deje apagado el calentador hasta que lo revise un contratista con licencia. { $rest }
problem-safety-soot-or-a-bad-flue = Hollín, marcas de quemado o un tubo de humos en mal estado pueden significar monóxido de carbono en la casa.
    .remedy = Si suena una alarma o alguien se siente mal, todos afuera, y llame al 911. Si no, gire el control de gas a apagado, abra una ventana, no encienda nada otra vez y llame ya a un contratista con licencia. { $rest }
problem-safety-relief-valve-has-opened = Si la válvula de alivio se abrió, el agua está demasiado caliente o la presión es demasiado alta.
    .remedy = No se acerque al agua, que quema; cierre el gas del calentador o baje su { -breaker } si es seguro; nunca tape la válvula; y llame ahora a un contratista con licencia. { $rest }
problem-safety-burner-safety-switch-has-tripped = Si se disparó el corte de seguridad del quemador, falta aire, el tubo de humo está tapado o el quemador no se apaga.
    .remedy = Si alguien se siente mal o suena una alarma de monóxido de carbono, todos afuera, y llame al 911. Si no, abra una ventana, deje el calentador apagado, no lo reinicie y llame ahora a un contratista con licencia. { $rest }
problem-safety-water-on-or-under-the-heater = Si hay agua sobre o debajo del calentador, hay que revisarlo hoy.
    .remedy = Si el tanque tiene una fuga: cierre el agua fría en el calentador, cierre su gas o baje su { -breaker }, cuidado con el agua, que quema, y llame a un contratista con licencia. { $rest }
problem-safety-code-first = Las normas locales y las instrucciones del fabricante van primero.

problem-code-without-reading = El código "{ $code }" no da ninguna fecha que corresponda.
    .remedy = Revise que esté escrito como está impreso; la página de garantía del fabricante lo puede decir.
problem-code-without-reading-house = El código "{ $code }" no da ninguna fecha que corresponda a una casa terminada en { $year }.
    .remedy = Revise que esté escrito como está impreso; la página de garantía del fabricante lo puede decir.
problem-code-has-several-readings = El código "{ $code }" puede significar: { $readings }.
    .remedy = Elija la fecha que corresponda y escríbala, y diga que la sabe por un código de la etiqueta.
problem-code-has-one-reading = El código "{ $code }" puede significar: { $readings }. También puede seguir una forma que aquí no se conoce.
    .remedy = Si le parece posible, escríbala como fecha y ponga "código de fecha" en cómo lo sabe.
problem-installed-from-code = El código "{ $code }" probablemente dice que se fabricó en esta fecha: { $made }; la instalación se cuenta desde entonces.
    .remedy = Escriba la fecha si la sabe mejor.
problem-installed-from-previous = La instalación se cuenta desde que se fue el calentador anterior ({ $when }).
problem-installed-from-house = Se toma el primer calentador como de la misma edad que la casa (terminada en { $year }).
problem-anode-work-open = No se dijo si el ánodo se revisó o se cambió; se guarda como revisado.
problem-anode-date-open = El trabajo en el ánodo no se puede guardar sin una fecha.
    .remedy = Agregue un año.
problem-warranty-term-and-end = El final de la garantía ({ $end }) no concuerda con { $years } años desde la instalación; cuenta el final que se dio.

problem-in-future = La respuesta a "{ $question }" es { $when }, y esa fecha todavía no ha llegado: hoy es { $today }.
    .remedy = Corrija la fecha; si en vez de eso da una razón, se deja en blanco.
problem-year-or-age = "{ $question }": "{ $typed }" puede ser el año { $year }, o hace { $years } años (hacia { $then }).
    .remedy = Escriba "{ $year }" o "hace { $years } años"; si en vez de eso da una razón, se lee como { $year }.
problem-answered-in-future = La fecha de la respuesta es el { $when }, después de hoy ({ $today }).
    .remedy = Corrija la fecha, o déjela en blanco.

problem-installed-before-house = El calentador se instaló { $when }, pero la casa se terminó en { $year }.
    .remedy = Revise la fecha y la dirección, o diga por qué las dos están bien.
problem-first-but-later-than-house = Se dice que es el primer calentador, pero se instaló { $when } y la casa se terminó en { $year }.
    .remedy = Corrija la fecha, o diga que es el segundo, o diga por qué las dos cosas están bien.
problem-moved-in-before-house = Usted se mudó { $when }, pero la casa se terminó en { $year }.
    .remedy = Escriba la fecha en que se mudó a esta casa, o diga por qué las dos están bien.
problem-previous-gone-before-house = El calentador anterior se fue { $when }, pero la casa se terminó en { $year }.
    .remedy = Corrija la fecha, o diga por qué las dos están bien.

problem-first-but-code-later = Se dice que es el primer calentador de una casa terminada en { $year }, pero el código "{ $code }" indica uno de estos años: { $made }.
    .remedy = Revise el código; si está como se imprimió, diga que es el segundo calentador o uno posterior, o diga por qué las dos cosas están bien.
problem-first-lasted-long = Se dice que es el segundo calentador: entonces el primero duró { $years } años en una casa terminada en { $year }. Casi ninguno dura tanto.
    .remedy = Diga que es el tercero o uno posterior, o "no sé", o corrija la fecha; o diga por qué está bien.
problem-first-heater-very-old = Si es el primer calentador de una casa terminada en { $year }, tendría { $years } años. Casi ninguno llega a tanto.
    .remedy = Si hubo otro antes, diga que es el segundo o uno posterior; si nadie lo sabe, "no sé". O diga por qué está bien.
problem-heater-very-old = El calentador tendría { $years } años. Casi ninguno llega a tanto.
    .remedy = Revise la fecha y déjela en blanco si nadie la sabe, o diga por qué está bien.

problem-anode-never-but-work = Se dice que el ánodo "nunca" se revisó, pero también que se { $work ->
    [checked] revisó
   *[changed] cambió
}.
    .remedy = Escriba la fecha del trabajo en el ánodo o deje en blanco qué se hizo, o diga por qué las dos cosas están bien.
problem-before-installed = La respuesta a "{ $question }" es { $done }, pero el calentador se instaló después ({ $installed }).
    .remedy = Corrija una de las fechas; si se le hizo al calentador anterior, dígalo como razón.

problem-first-but-previous = Se dice que es el primer calentador de esta casa, pero también se habla de uno anterior.
    .remedy = Diga que es el segundo, o deje en blanco el anterior, o diga por qué las dos cosas están bien.
problem-later-heater-dated-by-house = La fecha es la de la casa, pero se dice que no es el primer calentador.
    .remedy = Escriba la fecha de este calentador y cómo la sabe, o diga por qué las dos cosas están bien.
problem-previous-gone-after-installed = El calentador anterior se fue { $gone }, pero este se instaló { $installed }, mucho antes.
    .remedy = Corrija una de las fechas, o diga por qué las dos están bien.
problem-previous-gone-before-installed = El calentador anterior se fue { $gone }, pero este no se instaló sino { $installed }.
    .remedy = Corrija una de las fechas, o diga por qué las dos están bien.

problem-warranty-term = Una garantía de { $years } años no es común; las de 6, 9 y 12 sí.
    .remedy = Revise la etiqueta o déjelo en blanco, o diga por qué está bien.
problem-warranty-ends-before-installed = La garantía terminó el { $end }, antes de que se instalara el calentador ({ $installed }).
    .remedy = Corrija una de las fechas, o diga por qué las dos están bien.
problem-warranty-ends-late = Una garantía hasta el { $end } duraría { $years } años; las más largas que son comunes duran 12.
    .remedy = Revise la fecha o déjela en blanco, o diga por qué está bien.
problem-tankless-with-tank = Un calentador sin tanque no tiene tanque, pero se da uno de { $gallons } galones.
    .remedy = Corrija el tipo o deje en blanco el tamaño, o diga por qué las dos cosas están bien.
problem-tankless-with-anode = Un calentador sin tanque no tiene ánodo, pero se habla de trabajo en uno.
    .remedy = Corrija el tipo o deje en blanco el ánodo, o diga por qué las dos cosas están bien.
problem-tank-size = Un tanque de { $gallons } galones es difícil de creer; en las casas tienen de { $low } a { $high }.
    .remedy = Revise la etiqueta o déjelo en blanco, o diga por qué está bien.
problem-code-against-date = El código "{ $code }" dice que se fabricó en esta fecha: { $made }. Eso no concuerda con una instalación { $when } (suele ser hasta { $months } meses después).
    .remedy = Revise el código y la fecha, o diga por qué los dos están bien.
